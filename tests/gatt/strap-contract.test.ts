import { afterEach, describe, expect, it, vi } from 'vitest';
import { practiceStrap } from '$lib/gatt/practice-strap';
import type { Strap } from '$lib/gatt/strap';
import { pairStrap } from '$lib/gatt/pair-strap';
import { FakeRadio } from './fake-bluetooth';
import { listenTo, pass, settled, watchedClock, type WatchedClock } from './strap-bench';

interface Kind {
	kind: string;
	practice: boolean;
	/** A strap that sends a packet with every full second while connected. */
	make(clock: WatchedClock): Promise<Strap>;
}

const kinds: Kind[] = [
	{
		kind: 'the practice strap',
		practice: true,
		make: async (clock) => practiceStrap({ clock, seed: 7, name: 'Red corner', effortAt: () => 0.5 })
	},
	{
		kind: 'the Web Bluetooth strap',
		practice: false,
		async make(clock) {
			const radio = new FakeRadio(clock);
			const tick = (): void => {
				radio.notify([0x16, 120, 0x00, 0x02]);
				clock.wakeAt(clock.nowMs() + 1000, tick);
			};
			clock.wakeAt(clock.nowMs() + 1000, tick);
			return pairStrap({ clock, bluetooth: radio.bluetooth });
		}
	}
];

afterEach(() => {
	vi.unstubAllGlobals();
});

describe.each(kinds)('$kind', ({ practice, make }) => {
	async function made() {
		const clock = watchedClock(5000);
		const strap = await make(clock);
		return { clock, strap, heard: listenTo(strap) };
	}

	it('begins idle, under its name, and sends nothing before it is asked to connect', async () => {
		const { clock, strap, heard } = await made();
		await pass(clock, 5000, 1000);

		expect(strap).toMatchObject({ name: 'Red corner', practice, malformedCount: 0, details: {} });
		expect(strap.state).toEqual({ kind: 'idle' });
		expect(heard).toEqual({ readings: [], states: [] });
	});

	it('looks first, is connected next, and then sends a packet a second', async () => {
		const { clock, strap, heard } = await made();
		const connecting = strap.connect();
		expect(strap.state).toEqual({ kind: 'looking' });
		await connecting;
		expect(strap.state).toEqual({ kind: 'connected' });
		await pass(clock, 10_000);

		expect(heard.states).toEqual(['looking', 'connected']);
		expect(heard.readings.map(({ ms }) => ms)).toEqual(
			[6, 7, 8, 9, 10, 11, 12, 13, 14, 15].map((second) => second * 1000)
		);
		for (const { measurement } of heard.readings) {
			expect(measurement.contact).toBe('contact');
			expect(measurement.bpm).toBeGreaterThan(30);
			expect(measurement.rrMs.length).toBeGreaterThan(0);
		}
	});

	it('tells of a packet at the very time it is stamped with', async () => {
		const { clock, strap } = await made();
		const differences: number[] = [];
		strap.onReading(({ ms }) => differences.push(ms - clock.nowMs()));
		await strap.connect();
		await pass(clock, 3000);

		expect(differences).toEqual([0, 0, 0]);
	});

	it('learns battery and location without being asked', async () => {
		const { clock, strap } = await made();
		let told = {};
		strap.onChange(() => (told = strap.details));
		await strap.connect();
		await pass(clock, 1000);

		expect(told).toEqual({ batteryPercent: expect.any(Number), location: 'chest' });
	});

	it('connects once, however often it is asked', async () => {
		const { clock, strap, heard } = await made();
		await Promise.all([strap.connect(), strap.connect()]);
		await strap.connect();
		await pass(clock, 3000);

		expect(heard.states).toEqual(['looking', 'connected']);
		expect(heard.readings).toHaveLength(3);
	});

	it('stops telling whoever unsubscribed, and nobody else', async () => {
		const { clock, strap, heard } = await made();
		const counts = { readings: 0, changes: 0 };
		const stopReadings = strap.onReading(() => counts.readings++);
		strap.onChange(() => counts.changes++)();
		await strap.connect();
		await pass(clock, 2000);
		stopReadings();
		await pass(clock, 2000);

		expect(counts).toEqual({ readings: 2, changes: 0 });
		expect(heard.readings).toHaveLength(4);
	});

	it('goes on after a listener fails, tells the others, and hands the failure to the page', async () => {
		const failures: unknown[] = [];
		vi.stubGlobal('queueMicrotask', (task: () => void) => {
			try {
				task();
			} catch (failure) {
				failures.push(failure);
			}
		});
		const { clock, strap } = await made();
		strap.onReading(() => {
			throw new Error('a bug in the page');
		});
		const later = listenTo(strap);
		await strap.connect();
		await pass(clock, 3000);

		expect(later.readings).toHaveLength(3);
		expect(strap).toMatchObject({ malformedCount: 0, state: { kind: 'connected' } });
		expect(failures).toEqual(Array(3).fill(new Error('a bug in the page')));
	});

	it('says that it is closed and then says nothing more', async () => {
		const { clock, strap, heard } = await made();
		await strap.connect();
		await pass(clock, 2000);
		strap.close();
		strap.close();
		await pass(clock, 20_000, 500);

		expect(strap.state).toEqual({ kind: 'closed' });
		expect(heard.states).toEqual(['looking', 'connected', 'closed']);
		expect(heard.readings).toHaveLength(2);
	});

	it('can be closed by the listener of a packet', async () => {
		const { clock, strap, heard } = await made();
		await strap.connect();
		strap.onReading(() => strap.close());
		await pass(clock, 5000);

		expect(heard.readings).toHaveLength(1);
		expect(strap.state).toEqual({ kind: 'closed' });
	});

	it('refuses to connect once closed', async () => {
		const { strap } = await made();
		strap.close();

		await expect(strap.connect()).rejects.toMatchObject({ name: 'StrapError', code: 'cancelled' });
	});

	it('gives up connecting when it is closed meanwhile', async () => {
		const { clock, strap, heard } = await made();
		const connecting = strap.connect();
		strap.close();

		await expect(connecting).rejects.toMatchObject({ name: 'StrapError', code: 'cancelled' });
		await pass(clock, 5000);
		expect(heard).toEqual({ readings: [], states: ['looking', 'closed'] });
	});

	it('leaves no wake behind when it is closed', async () => {
		const { clock, strap } = await made();
		const before = clock.wakesToCome;
		await strap.connect();
		await pass(clock, 2500);
		expect(clock.wakesToCome).toBeGreaterThan(before);
		strap.close();
		await settled();

		expect(clock.wakesToCome).toBe(before);
	});
});
