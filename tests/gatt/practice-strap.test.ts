import { describe, expect, it } from 'vitest';
import { practiceStrap } from '$lib/gatt/practice-strap';
import { simulatedHeart } from '$lib/gatt/simulated-heart';
import type { StrapReading } from '$lib/gatt/strap';
import { manualClock } from '$lib/time/manual-clock';
import { bout, mean, packetsOf, ratesOf, riseOver } from './practice-bench';
import { lateClock } from './strap-bench';

describe('the packets of the practice strap', () => {
	it('come for every second, with the intervals of the beats that fell in it', async () => {
		const readings = await packetsOf(600, { effortAt: () => 0.6 });

		expect(readings.map(({ ms }) => ms)).toEqual(Array.from({ length: 600 }, (_, i) => (i + 1) * 1000));
		const rrMs = readings.flatMap(({ measurement }) => measurement.rrMs);
		const totalMs = rrMs.reduce((sum, ms) => sum + ms, 0);
		// The first interval began before the first second and the last one ended before the last: one beat each.
		expect(Math.abs(totalMs - 600_000)).toBeLessThan(1000);
		const beatsPerMin = 60_000 / mean(rrMs);
		expect(Math.abs(beatsPerMin - mean(ratesOf(readings)))).toBeLessThan(1);
	});

	it('come in their order where whoever hears of one asks for what is due', async () => {
		const clock = manualClock();
		const strap = practiceStrap({ clock: lateClock(clock, () => 59_000), seed: 3, effortAt: () => 0.5 });
		const heard: number[] = [];
		strap.onReading(({ ms }) => {
			strap.catchUp();
			heard.push(ms);
		});
		await strap.connect();
		clock.advanceTo(61_000);
		expect(heard).toEqual(Array.from({ length: heard.length }, (_, i) => (i + 1) * 1000));
		expect(heard.length).toBeGreaterThan(50);
	});

	it('are due a second after one another, from the connection until the strap is closed', async () => {
		const clock = manualClock(5000);
		const strap = practiceStrap({ clock, seed: 1, effortAt: () => 0 });
		expect(strap.nextDueMs).toBe(Infinity);
		await strap.connect();
		expect(strap.nextDueMs).toBe(6000);
		clock.advanceTo(8500);
		expect(strap.nextDueMs).toBe(9000);
		strap.close();
		expect(strap.nextDueMs).toBe(Infinity);
	});

	it('have contact, and energy in one of ten, which grows', async () => {
		const readings = await packetsOf(300, { effortAt: () => 1 });
		const energies = readings.flatMap(({ measurement }) => measurement.energyKJ ?? []);

		expect(new Set(readings.map(({ measurement }) => measurement.contact))).toEqual(new Set(['contact']));
		expect(energies).toHaveLength(30);
		expect(energies).toEqual([...energies].sort((a, b) => a - b));
		expect(riseOver(energies)).toBeGreaterThan(0);
	});

	it('say what the heart did: its intervals, the mean rate of three seconds, energy as a sensor reckons it', async () => {
		const [effortAt, seed] = [() => 0.7, 6];
		const readings = await packetsOf(120, { effortAt, seed });
		// The strap looks back three seconds, so that its first packet has a rate.
		const beats = simulatedHeart({ effortAt, seed, startMs: -3000 }).beatsUntil(120_000);
		let energyKJ = 0;
		for (const [i, { ms, measurement }] of readings.entries()) {
			const within = (fromMs: number) => beats.filter((beat) => beat.ms > fromMs && beat.ms <= ms);
			const bpm = Math.round(60_000 / mean(within(ms - 3000).map(({ rrMs }) => rrMs)));
			// Half a kilojoule a minute for every beat above 50.
			energyKJ += (bpm - 50) / 2 / 60;

			expect(measurement.bpm).toBe(bpm);
			expect(measurement.rrMs.map((rr) => Math.round(rr * 1.024))).toEqual(
				within(ms - 1000).map(({ rrMs }) => Math.round(rrMs * 1.024))
			);
			expect(measurement.energyKJ).toBe(i % 10 === 9 ? Math.floor(energyKJ) : undefined);
		}
	});

	it('have energy that does not fall where the heart beats under 50', async () => {
		const readings = await packetsOf(60, { athlete: { restBpm: 40 } });

		expect(readings.flatMap(({ measurement }) => measurement.energyKJ ?? [])).toEqual([0, 0, 0, 0, 0, 0]);
	});

	it('come under the name of a simulated strap where they are given none', () => {
		const strap = practiceStrap({ clock: manualClock(), seed: 1, effortAt: () => 0 });

		expect(strap.name).toBe('Simulated strap');
		expect(strap.details).toEqual({});
	});

	it('carry what 1/1024 s can say and nothing finer: they travel as bytes', async () => {
		const rrMs = (await packetsOf(60, {})).flatMap(({ measurement }) => measurement.rrMs);

		expect(rrMs.length).toBeGreaterThan(50);
		for (const ms of rrMs) expect(Number.isInteger(ms * 1.024)).toBe(true);
	});

	it('are the same for the same seed and others for another', async () => {
		const { effortAt } = bout({ rounds: 1, workS: 180 });
		const [first, again, other] = await Promise.all(
			[4, 4, 5].map((seed) => packetsOf(300, { effortAt, seed }))
		);

		expect(again).toEqual(first);
		expect(other).not.toEqual(first);
	});

	it('are the same, with the same stamps, on a clock whose wakes come half a minute late', async () => {
		const { effortAt } = bout({ rounds: 1, workS: 180 });
		const onTime = await packetsOf(300, { effortAt });
		const clock = manualClock();
		const strap = practiceStrap({ clock: lateClock(clock, () => 29_500), seed: 1, effortAt });
		const late: StrapReading[] = [];
		const arrivals = new Set<number>();
		strap.onReading((reading) => {
			late.push(reading);
			arrivals.add(clock.nowMs());
		});
		await strap.connect();
		clock.advanceTo(301_000);

		expect(arrivals.size).toBe(10);
		expect(late).toHaveLength(300);
		expect(late).toEqual(onTime);
	});

	it('end in the middle of a burst where a listener closes the strap', async () => {
		const clock = manualClock();
		const strap = practiceStrap({ clock: lateClock(clock, () => 60_000), seed: 1, effortAt: () => 0 });
		let count = 0;
		strap.onReading(() => {
			if (++count === 3) strap.close();
		});
		await strap.connect();
		clock.advanceTo(200_000);

		expect(count).toBe(3);
	});

	it('ask for the effort by the time of the clock, wherever that begins', async () => {
		const clock = manualClock(1_000_000);
		const asked: number[] = [];
		const effortAt = (ms: number) => {
			asked.push(ms);
			return 0;
		};
		const strap = practiceStrap({ clock, seed: 1, effortAt });
		await strap.connect();
		clock.advanceTo(1_060_000);

		// Up to 8 s before the connection, as promised.
		expect(Math.min(...asked)).toBeGreaterThanOrEqual(1_000_000 - 8000);
		expect(Math.max(...asked)).toBeGreaterThan(1_050_000);
		expect(Math.max(...asked)).toBeLessThanOrEqual(1_060_000);
	});
});
