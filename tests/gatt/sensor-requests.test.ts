import { describe, expect, it } from 'vitest';
import { readSensorDetails } from '$lib/gatt/sensor-details';
import type { StrapDetails } from '$lib/gatt/strap';
import { settled, watchedClock } from './strap-bench';

/** A strap each of whose answers comes when the test gives it, and what is asked of it, in order. */
function asking({ notify = false } = {}) {
	const clock = watchedClock();
	const link = new AbortController();
	const asked: string[] = [];
	const learned: StrapDetails[] = [];
	const answers = new Map<string, (bytes: number[]) => void>();
	const characteristic = (name: string) =>
		Object.assign(new EventTarget(), {
			value: undefined as DataView | undefined,
			properties: { notify },
			readValue: () => {
				asked.push(`read ${name}`);
				return new Promise<DataView>((resolve) =>
					answers.set(name, (bytes) => resolve(new DataView(Uint8Array.from(bytes).buffer)))
				);
			},
			startNotifications: async () => void asked.push(`follow ${name}`)
		});
	const battery = characteristic('battery');
	const location = characteristic('location');
	const heartRate = {
		device: { gatt: { getPrimaryService: async () => ({ getCharacteristic: async () => battery }) } },
		getCharacteristic: async () => location
	};
	const done = readSensorDetails(heartRate as unknown as BluetoothRemoteGATTService, {
		clock,
		signal: link.signal,
		learn: (details) => learned.push(details)
	});
	return {
		clock,
		link,
		asked,
		learned,
		battery,
		done,
		answer: (name: string, bytes: number[]) => answers.get(name)!(bytes)
	};
}

describe('what a strap is asked beside its packets', () => {
	it('is asked one after the other, and nothing that it does not offer', async () => {
		const { clock, asked, learned, answer, done } = asking();
		await settled();
		expect(asked).toEqual(['read location']);
		answer('location', [2]);
		await settled();
		expect(asked).toEqual(['read location', 'read battery']);
		answer('battery', [77]);
		await done;

		expect(asked).toEqual(['read location', 'read battery']);
		expect(learned).toEqual([{ location: 'wrist' }, { batteryPercent: 77 }]);
		expect(clock.wakesToCome).toBe(0);
	});

	it('is followed where it can notify, for as long as the connection lasts', async () => {
		const { link, asked, learned, battery, answer, done } = asking({ notify: true });
		await settled();
		answer('location', [1]);
		await settled();
		answer('battery', [100]);
		await done;
		expect(asked).toEqual(['read location', 'read battery', 'follow battery']);
		battery.dispatchEvent(new Event('characteristicvaluechanged'));
		battery.value = new DataView(Uint8Array.of(0).buffer);
		battery.dispatchEvent(new Event('characteristicvaluechanged'));
		link.abort();
		battery.value = new DataView(Uint8Array.of(9).buffer);
		battery.dispatchEvent(new Event('characteristicvaluechanged'));

		expect(learned).toEqual([{ location: 'chest' }, { batteryPercent: 100 }, { batteryPercent: 0 }]);
	});

	it('is waited for eight seconds each, and not believed of a connection that is over', async () => {
		const { clock, link, asked, learned, answer, done } = asking({ notify: true });
		await settled();
		clock.advanceTo(7999);
		await settled();
		expect(asked).toEqual(['read location']);
		clock.advanceTo(8000);
		await settled();
		expect(asked).toEqual(['read location', 'read battery']);
		link.abort();
		await done;
		answer('location', [1]);
		answer('battery', [50]);
		await settled();

		expect(asked, 'nor followed').toEqual(['read location', 'read battery']);
		expect(learned).toEqual([]);
		expect(clock.wakesToCome).toBe(0);
	});
});
