import type { Clock } from '$lib/time/clock';
import { within } from './limited-wait';
import type { StrapDetails } from './strap';

const detailLimitMs = 8000;

// Body Sensor Location (0x2A38) by its code: Bluetooth SIG, Heart Rate Service 1.0, 3.2. All others are reserved.
const locations = ['other', 'chest', 'wrist', 'finger', 'hand', 'ear lobe', 'foot'] as const;

/** Reads a Body Sensor Location (0x2A38); nothing for a reserved code or an empty value. */
function sensorLocationFrom(bytes: DataView): StrapDetails['location'] {
	return bytes.byteLength > 0 ? locations[bytes.getUint8(0)] : undefined;
}

/** Reads a Battery Level (0x2A19), 0 to 100 %; nothing for a reserved number or an empty value. */
function batteryPercentFrom(bytes: DataView): StrapDetails['batteryPercent'] {
	const percent = bytes.byteLength > 0 ? bytes.getUint8(0) : undefined;
	return percent !== undefined && percent <= 100 ? percent : undefined;
}

/**
 * Asks a connected strap for what it need not offer, and passes on what it answers, battery levels for as long as
 * the connection lasts. Whatever is not offered, not readable or too slow stays unknown; this never throws.
 */
export async function readSensorDetails(
	heartRate: BluetoothRemoteGATTService,
	{ clock, signal, learn }: { clock: Clock; signal: AbortSignal; learn: (details: StrapDetails) => void }
): Promise<void> {
	async function ask(asking: Promise<void>): Promise<void> {
		try {
			await within(clock, detailLimitMs, signal, asking);
		} catch {
			// Stays unknown.
		}
	}

	async function askLocation(): Promise<void> {
		const characteristic = await heartRate.getCharacteristic('body_sensor_location');
		const location = sensorLocationFrom(await characteristic.readValue());
		if (location && !signal.aborted) learn({ location });
	}

	async function askBattery(): Promise<void> {
		const service = await heartRate.device.gatt?.getPrimaryService('battery_service');
		const characteristic = await service?.getCharacteristic('battery_level');
		if (!characteristic) return;
		const take = (bytes: DataView | undefined) => {
			const batteryPercent = bytes && batteryPercentFrom(bytes);
			if (batteryPercent !== undefined && !signal.aborted) learn({ batteryPercent });
		};
		take(await characteristic.readValue());
		if (!characteristic.properties.notify || signal.aborted) return;
		characteristic.addEventListener('characteristicvaluechanged', () => take(characteristic.value), {
			signal
		});
		await characteristic.startNotifications();
	}

	// One after the other: some systems refuse a request while another is under way.
	await ask(askLocation());
	if (!signal.aborted) await ask(askBattery());
}
