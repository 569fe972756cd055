import { describe, expect, it } from 'vitest';
import { simulatedHeart, type Beat, type PracticeAthlete } from '$lib/gatt/simulated-heart';
import { mean } from './practice-bench';

const lagS = 5;
const athlete: PracticeAthlete = { restBpm: 60, maxBpm: 190, riseS: 25, fallS: 55 };
const reserveBpm = 130;

function beatsOf(seconds: number, effortAt: (s: number) => number, seed: number, of = athlete): Beat[] {
	const heart = simulatedHeart({ effortAt: (ms) => effortAt(ms / 1000), startMs: 0, seed, athlete: of });
	return heart.beatsUntil(seconds * 1000);
}

/** The rate in the intervals whose middles lie around each time, over many hearts: chance, breath and wander cancel out. */
function ratesAround(timesS: number[], effortAt: (s: number) => number, of = athlete): number[] {
	const hearts = Array.from({ length: 12 }, (_, seed) =>
		beatsOf(Math.max(...timesS) + 2, effortAt, seed + 1, of)
	);
	return timesS.map((atS) => {
		const rrMs = hearts.flatMap((beats) =>
			beats.filter(({ ms, rrMs }) => Math.abs((ms - rrMs / 2) / 1000 - atS) < 2).map((beat) => beat.rrMs)
		);
		return 60_000 / mean(rrMs);
	});
}

function expectRates(actual: number[], expected: number[]): void {
	actual.forEach((bpm, i) =>
		expect(Math.abs(bpm - expected[i]!), `${bpm} for ${expected[i]}`).toBeLessThan(1)
	);
}

/** How far a process of this time constant has gone after `seconds`. */
const gone = (seconds: number, timeConstantS: number) => 1 - Math.exp(-seconds / timeConstantS);

describe('the course of the simulated rate', () => {
	// What it settles at, as a share of the reserve: effort * (0.86 + 0.1 * tiredness) for the work and
	// (1 - effort) * 0.6 * tiredness for the rest, where tiredness comes to effort squared; never more than 1.
	it.each([
		{ effort: 0, share: 0 },
		{ effort: -1, share: 0 },
		{ effort: 0.25, share: 0.25 * (0.86 + 0.1 * 0.0625) + 0.75 * 0.6 * 0.0625 },
		{ effort: 0.5, share: 0.5 * (0.86 + 0.1 * 0.25) + 0.5 * 0.6 * 0.25 },
		{ effort: 1, share: 0.96 },
		{ effort: 3, share: 1 }
	])('settles at effort $effort where fresh work, tiring and rest put it', ({ effort, share }) => {
		const beats = beatsOf(2400, () => effort, 7).filter(({ ms }) => ms > 1_500_000);
		const bpm = 60_000 / mean(beats.map(({ rrMs }) => rrMs));

		expect(Math.abs(bpm - (athlete.restBpm + reserveBpm * share))).toBeLessThan(1);
	});

	it('goes on for five seconds as before, climbs with its own time constant, and drifts as it tires', () => {
		// At fight pace the target is 0.96 less 0.1 * exp(-t / 240) of the reserve, and the rate follows it with 25 s.
		const share = (s: number) =>
			0.96 * gone(s, 25) - (0.1 * (Math.exp(-s / 240) - Math.exp(-s / 25))) / (1 - 25 / 240);
		const timesS = [2, 10, 25, 60, 180, 480];
		const bpm = ratesAround(
			timesS.map((s) => s + 60 + lagS),
			(s) => (s < 60 ? 0 : 1)
		);

		expectRates(
			ratesAround([30, 62], (s) => (s < 60 ? 0 : 1)),
			[60, 60]
		);
		expectRates(
			bpm,
			timesS.map((s) => 60 + reserveBpm * share(s))
		);
	});

	it('falls with its own time constant, and not below what tiredness holds up, which goes with 900 s', () => {
		// After eight minutes tiredness is 1 - exp(-2); at rest the target is 0.6 of it, less as it goes.
		const workS = 480;
		const tired = gone(workS, 240);
		const bellShare =
			0.96 * gone(workS, 25) - (0.1 * (Math.exp(-workS / 240) - Math.exp(-workS / 25))) / (1 - 25 / 240);
		const share = (s: number) =>
			bellShare * Math.exp(-s / 55) +
			(0.6 * tired * (Math.exp(-s / 900) - Math.exp(-s / 55))) / (1 - 55 / 900);
		const timesS = [2, 20, 55, 120, 300, 600];
		const bpm = ratesAround(
			timesS.map((s) => s + workS + lagS),
			(s) => (s >= 0 && s < workS ? 1 : 0)
		);

		expectRates(
			bpm,
			timesS.map((s) => 60 + reserveBpm * share(s))
		);
	});
});

describe('the beats of the simulated heart', () => {
	const strained: PracticeAthlete = { restBpm: 60, maxBpm: 200, riseS: 25, fallS: 55 };

	// A beat that leans by L on the one before it turns the changes from beat to beat against one another by half of
	// 1 - L. The lean is 0.3 less 5 for each share of the reserve above 0.73, and never below -0.5.
	it.each([
		{ strain: 0.7, lean: 0.45 },
		{ strain: 0.74, lean: 0.25 },
		{ strain: 0.79, lean: 0 },
		{ strain: 0.84, lean: -0.25 },
		{ strain: 0.93, lean: -0.5 }
	])('lean on one another by $lean at $strain of the reserve', ({ strain, lean }) => {
		// The effort at which the heart settles there, found by halving.
		let [low, high] = [0, 1];
		for (let step = 0; step < 30; step++) {
			const effort = (low + high) / 2;
			const share = effort * (0.86 + 0.1 * effort ** 2) + (1 - effort) * 0.6 * effort ** 2;
			if (share < strain) low = effort;
			else high = effort;
		}
		const rrMs = beatsOf(4000, () => low, 5, strained)
			.filter(({ ms }) => ms > 1_500_000)
			.map((beat) => beat.rrMs);
		const changes = rrMs.slice(1).map((ms, i) => ms - rrMs[i]!);
		const together = mean(changes.slice(1).map((change, i) => change * changes[i]!));

		expect(Math.abs(together / mean(changes.map((change) => change ** 2)) + (1 - lean) / 2)).toBeLessThan(
			0.04
		);
	});

	it('move with the breath, which a calm heart follows by a twentieth and a strained one hardly at all', () => {
		const calm = beatsOf(1200, () => 0, 3).map(({ rrMs }) => rrMs);
		const hard = beatsOf(2400, () => 1, 3)
			.filter(({ ms }) => ms > 1_200_000)
			.map(({ rrMs }) => rrMs);
		const spread = (values: number[]) =>
			Math.sqrt(mean(values.map((value) => (value / mean(values) - 1) ** 2)));

		// 0.045 of a breath's sine and 0.008 of chance, beside a wander of 1.2 in 60 beats.
		expect(Math.abs(spread(calm) - Math.hypot(0.045 / Math.SQRT2, 0.008, 1.2 / 60))).toBeLessThan(0.004);
		// At 0.96 of the reserve the breath is 0.045 * 0.04 ** 4: what is left is 0.002 of chance.
		expect(Math.abs(spread(hard) - 0.002)).toBeLessThan(0.0005);
	});

	it('come one interval after another, none before it is asked for and none twice', () => {
		const heart = simulatedHeart({ effortAt: () => 0.3, startMs: 10_000, seed: 2 });
		const [first, second] = [heart.beatsUntil(15_000), heart.beatsUntil(20_000)];
		const beats = [...first, ...second];

		expect(heart.beatsUntil(20_000)).toEqual([]);
		expect(first.every(({ ms }) => ms <= 15_000)).toBe(true);
		expect(second.every(({ ms }) => ms > 15_000 && ms <= 20_000)).toBe(true);
		expect(
			simulatedHeart({ effortAt: () => 0.3, startMs: 10_000, seed: 2 }).beatsUntil(beats[2]!.ms)
		).toEqual(beats.slice(0, 3));
		beats.forEach(({ ms, rrMs }, i) => expect(ms).toBe((beats[i - 1]?.ms ?? 10_000) + rrMs));
	});

	it('breathe faster the harder the work', () => {
		// 0.22 breaths a second at rest and half a breath more for each whole effort.
		const breathsPerS = (effort: number) => {
			const of = { ...athlete, maxBpm: 400 };
			const beats = beatsOf(1200, () => effort, 9, of).filter(({ ms }) => ms > 600_000);
			const meanMs = mean(beats.map(({ rrMs }) => rrMs));
			const power = (perS: number) => {
				const turn = (ms: number) => (2 * Math.PI * perS * ms) / 1000;
				return Math.hypot(
					mean(beats.map(({ ms, rrMs }) => (rrMs - meanMs) * Math.cos(turn(ms)))),
					mean(beats.map(({ ms, rrMs }) => (rrMs - meanMs) * Math.sin(turn(ms))))
				);
			};
			const tried = Array.from({ length: 60 }, (_, i) => 0.15 + i * 0.005);
			return tried.reduce((best, perS) => (power(perS) > power(best) ? perS : best), tried[0]!);
		};

		expect(breathsPerS(0)).toBeCloseTo(0.22, 2);
		expect(breathsPerS(0.2)).toBeCloseTo(0.32, 2);
	});
});
