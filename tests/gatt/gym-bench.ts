import { pairStrap } from '$lib/gatt/pair-strap';
import type { Strap } from '$lib/gatt/strap';
import { FakeRadio } from './fake-bluetooth';
import { watchedClock } from './strap-bench';

/** One computer with several straps in reach, each of which the test holds in its hand. */
export function gym(names: readonly string[]) {
	const clock = watchedClock();
	const radios = names.map((name, i) => {
		const radio = Object.assign(new FakeRadio(clock), { name });
		// The same after a reload, as the browser has it.
		Object.assign(radio.device, { id: `device-${i}` });
		return radio;
	});
	let picked: FakeRadio = radios[0]!;
	const browser = {
		/** Which devices the browser permits without a chooser; where it does not say, this is absent. */
		getDevices: undefined as (() => Promise<BluetoothDevice[]>) | undefined
	};
	const bluetooth = {
		getAvailability: async () => true,
		requestDevice: (options: RequestDeviceOptions) => picked.bluetooth.requestDevice(options),
		get getDevices() {
			return browser.getDevices;
		}
	} as unknown as Bluetooth;
	return {
		clock,
		radios,
		bluetooth,
		/** After a reload, say: the browser permits these. */
		permit(...permitted: FakeRadio[]): void {
			browser.getDevices = async () => permitted.map(({ device }) => device as BluetoothDevice);
		},
		/** Somebody picks this one in the chooser. */
		pair(radio: FakeRadio, instead?: Strap): Promise<Strap> {
			picked = radio;
			return pairStrap({ clock, instead, bluetooth });
		}
	};
}

/** A strap of each, all connected, in their order. */
export async function allConnected(names: readonly string[]) {
	const bench = gym(names);
	const straps: Strap[] = [];
	for (const radio of bench.radios) {
		const strap = await bench.pair(radio);
		await strap.connect();
		straps.push(strap);
	}
	return { ...bench, straps };
}
