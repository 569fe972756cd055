import fc from '../by-chance';
import {
	linearRegression,
	linearRegressionLine,
	mean,
	rSquared,
	sampleCorrelation,
	standardDeviation
} from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { cleanIntervals, intervalsOf, type Interval, type RrReading } from '$lib/physiology/rr-intervals';
import { scalingWindows } from '$lib/physiology/short-term-scaling';
import { thresholdsFromScaling } from '$lib/physiology/threshold-from-scaling';
import { numbersIn } from './builders';
import { outside } from './outside';
import { effort } from './scaling-noise';

// A ramp from 110 to 184 bpm in 24 minutes whose exponent falls from 1.15 at 120 bpm by 0.0125 a beat: it is 0.75
// at 152 bpm and 0.5 at 172. Its beats are autoregressions with exactly these exponents.
const alphaAt = (bpm: number) => Math.max(0.41, Math.min(1.15, 1.15 - 0.0125 * (bpm - 120)));
const bpmAt = (share: number) => 110 + 74 * share;
const ramp = (seed: number, overrides: Partial<Parameters<typeof effort>[0]> = {}) =>
	effort({ minutes: 24, bpmAt, alphaAt, seed, ...overrides });
const opinionOn = (...stretches: Interval[][]) =>
	thresholdsFromScaling(cleanIntervals(stretches), -Infinity, Infinity);

/** Every so many beats one that no heart has. */
const spoilt = (beats: Interval[], every: number) =>
	beats.map((each, i) => (i % every === 9 ? { ...each, rrMs: 230 } : each));

describe('thresholdsFromScaling', () => {
	it('finds both crossings of simulated ramps without bias, one ramp within some beats', () => {
		const opinions = Array.from({ length: 20 }, (_, seed) => opinionOn(ramp(seed + 1)));
		const forAerobic = outside(
			'second-opinion',
			'Simulated ramps in which alpha-1 is known at every rate: rate at 0.75',
			'bpm'
		);
		const aerobic = opinions.map((each) => each.aerobicBpm!);
		for (const bpm of aerobic) forAerobic.take(bpm, 152);
		forAerobic.settle();
		const anaerobic = opinions.flatMap((each) => each.anaerobicBpm ?? []);
		expect(anaerobic.length).toBeGreaterThan(17);
		expect(Math.abs(mean(aerobic) - 152)).toBeLessThan(2);
		expect(standardDeviation(aerobic)).toBeLessThan(3);
		expect(Math.abs(mean(anaerobic) - 172)).toBeLessThan(3);
		expect(standardDeviation(anaerobic)).toBeLessThan(4);
		expect(opinions.filter((each) => each.confidence === 'fair').length).toBeGreaterThan(17);
	});

	it('draws the line as simple-statistics does through the same windows', () => {
		const opinion = opinionOn(ramp(1));
		const { line } = opinion;
		const points = scalingWindows(cleanIntervals([ramp(1)]))
			.filter((each) => each.meanRateBpm >= line!.fromBpm && each.meanRateBpm <= line!.toBpm)
			.map((each): [number, number] => [each.meanRateBpm, each.alpha1!]);
		expect(points).toHaveLength(line!.windowCount);
		const { m, b } = linearRegression(points);
		expect(line!.slopePerBpm).toBeCloseTo(m, 9);
		expect(line!.intercept).toBeCloseTo(b, 7);
		expect(line!.r2).toBeCloseTo(rSquared(points, linearRegressionLine({ m, b })), 9);
		expect(opinion.aerobicBpm).toBeCloseTo((0.75 - b) / m, 6);
		expect(opinion.anaerobicBpm).toBeCloseTo((0.5 - b) / m, 6);
	});

	it('reads a run in four steps of five minutes too, a little high', () => {
		// 132, 146, 160 and 174 bpm, each approached with a time constant of 40 s: where the rate still climbs
		// steeply inside a window, its trend adds to the exponent.
		const bpmInStep = (share: number) => {
			const step = Math.floor(4 * share);
			const sinceS = (4 * share - step) * 300;
			return 132 + 14 * (step - (step > 0 ? Math.exp(-sinceS / 40) : 0));
		};
		const rates = Array.from(
			{ length: 12 },
			(_, seed) => opinionOn(ramp(seed + 1, { minutes: 20, bpmAt: bpmInStep })).aerobicBpm
		).filter((bpm) => bpm !== undefined);
		expect(rates.length).toBeGreaterThan(8);
		expect(mean(rates)).toBeGreaterThan(150);
		expect(mean(rates)).toBeLessThan(156);
	});

	it('gives one rate and names the other where only one is crossed', () => {
		for (let seed = 1; seed <= 10; seed++) {
			const easy = opinionOn(ramp(seed, { bpmAt: (share) => 110 + 55 * share }));
			expect(Math.abs(easy.aerobicBpm! - 152)).toBeLessThan(8);
			expect(easy.anaerobicBpm).toBeUndefined();
			expect(easy.reasons[0]).toBe('Alpha-1 did not clearly cross 0.5 inside this effort.');
			expect(easy.confidence).not.toBe('none');
		}
	});

	it('ends the line where the fall ends, though the effort goes on', () => {
		// The exponent reaches its floor of 0.41 at 179 bpm.
		for (let seed = 1; seed <= 6; seed++) {
			const { line } = opinionOn(ramp(seed, { minutes: 30, bpmAt: (share) => 110 + 100 * share }));
			expect(line!.toBpm).toBeGreaterThan(165);
			expect(line!.toBpm).toBeLessThan(183);
		}
	});

	it('is less sure of an effort that begins too hard', () => {
		const hard = opinionOn(ramp(4, { bpmAt: (share) => 140 + 40 * share }));
		expect(hard.confidence).toBe('low');
		expect(hard.reasons).toContain(
			'Alpha-1 was below 1.0 from the start: the effort began too hard to see the whole fall.'
		);
	});

	it('is less sure of a fall that scatters widely', () => {
		const doubt = 'Alpha-1 scattered widely about its fall.';
		const lines = Array.from({ length: 12 }, (_, seed) =>
			opinionOn(ramp(seed + 1, { bpmAt: (share) => 110 + 52 * share }))
		).filter((each) => each.confidence !== 'none');
		const scattered = lines.filter((each) => each.line!.r2 < 0.7);
		expect(scattered.length).toBeGreaterThan(0);
		expect(scattered.length).toBeLessThan(lines.length);
		expect(lines.filter((each) => each.reasons.includes(doubt))).toEqual(scattered);
		expect(scattered.every((each) => each.confidence === 'low')).toBe(true);
	});

	it('reads only the effort and not what lies around it', () => {
		const beats = ramp(5);
		const lastMs = beats.at(-1)!.ms;
		const around = [
			...effort({ minutes: 10, bpmAt: () => 70, alphaAt: () => 1, seed: 6 }).map(({ ms, rrMs }) => ({
				ms: ms - 600_000,
				rrMs
			})),
			...beats,
			...effort({ minutes: 10, bpmAt: () => 120, alphaAt: () => 1.1, seed: 7 }).map(({ ms, rrMs }) => ({
				ms: ms + lastMs,
				rrMs
			}))
		];
		const clean = cleanIntervals([around]);
		const inside = thresholdsFromScaling(clean, 2000, lastMs + 1);
		const alone = thresholdsFromScaling(cleanIntervals([beats]), 2000, lastMs + 1);
		// The beats on either side help to judge those at the edge.
		expect(inside).toEqual({ ...alone, artefactShare: inside.artefactShare });
		expect(Math.abs(inside.artefactShare! - alone.artefactShare!)).toBeLessThan(0.001);
		expect(thresholdsFromScaling(clean, -600_000, Infinity)).not.toEqual(alone);
	});

	it('comes to the same through the packets of a strap', () => {
		const packets = new Map<number, number[]>();
		for (const { ms, rrMs } of ramp(8)) {
			const second = Math.ceil(ms / 1000);
			packets.set(second, [...(packets.get(second) ?? []), rrMs]);
		}
		const readings = [...packets].map(([second, rrMs]): RrReading => ({ ms: 1000 * second, rrMs }));
		const stretches = intervalsOf(readings);
		expect(stretches).toHaveLength(1);
		const direct = opinionOn(ramp(8));
		const sent = opinionOn(...stretches);
		expect(Math.abs(sent.aerobicBpm! - direct.aerobicBpm!)).toBeLessThan(1);
	});
});

describe('a second opinion is withheld', () => {
	it('over 5 % bad beats, and doubted from 3 %', () => {
		const shares = [19, 21, 32, 36].map((every) => opinionOn(spoilt(ramp(9), every)));
		expect(shares.map((each) => each.confidence)).toEqual(['none', 'low', 'low', 'fair']);
		expect(shares[0]).toEqual({
			artefactShare: shares[0]!.artefactShare,
			confidence: 'none',
			reasons: ['5.3 % of the beats were bad, and up to 5 % are allowed. Wet the strap and pull it tighter.']
		});
		expect(shares[1]!.reasons).toContain('4.8 % of the beats were bad and put right.');
		expect(Math.abs(shares[1]!.aerobicBpm! - 152)).toBeLessThan(8);
	});

	it('without RR intervals', () => {
		expect(opinionOn()).toEqual({
			artefactShare: undefined,
			confidence: 'none',
			reasons: ['No RR intervals came: this strap may not send them.']
		});
	});

	it('with under seven unbroken minutes', () => {
		const short = opinionOn(ramp(10, { minutes: 6 }));
		expect(short.confidence).toBe('none');
		expect(short.reasons[0]).toMatch(/^Of windows of two unbroken minutes \d+ could be read/);
		const beats = ramp(10);
		const pieces = Array.from({ length: 16 }, (_, i) => beats.slice(i * 210, i * 210 + 210));
		expect(opinionOn(...pieces).confidence).toBe('none');
		expect(opinionOn(...pieces).aerobicBpm).toBeUndefined();
	});

	it.each([
		['rounds and rests', (share: number) => (Math.floor(share * 24) % 4 === 3 ? 120 : 165)],
		['a steady run', () => 150],
		['a rise that swings', (share: number) => 110 + 40 * share + 25 * (Math.floor(share * 6) % 2)],
		['a falling rate', (share: number) => 180 - 70 * share],
		['a rise of under 20 bpm', (share: number) => 140 + 18 * share]
	])('for %s, which are no ramp', (_, shape) => {
		expect(opinionOn(ramp(11, { bpmAt: shape })).reasons).toEqual([
			'The heart rate did not rise steadily by 20 bpm or more; this needs a ramp, or a run with rising pace.'
		]);
	});

	it('where alpha-1 falls at once, within 10 bpm, as when something other than effort changed', () => {
		const sudden = ramp(14, {
			minutes: 40,
			bpmAt: (share) => 125 + 25 * share,
			alphaAt: (bpm) => Math.max(0.42, Math.min(1.15, 1.15 - 0.18 * (bpm - 136)))
		});
		expect(opinionOn(sudden)).toMatchObject({
			confidence: 'none',
			reasons: ['Alpha-1 did not fall clearly as the heart rate rose.']
		});
	});

	it('where the line would have the value only at a rate that was never reached', () => {
		// Level but for the last two minutes: their plunge is below 0.5 while the line is still far above.
		const plunging = ramp(1, { alphaAt: (bpm) => (bpm < 176 ? 1 - 0.004 * (bpm - 110) : 0.41) });
		const opinion = opinionOn(plunging);
		expect(opinion.line!.toBpm).toBeLessThan((0.5 - opinion.line!.intercept) / opinion.line!.slopePerBpm);
		expect(opinion.anaerobicBpm).toBeUndefined();
	});

	it('where alpha-1 falls less than it scatters over the effort', () => {
		const weak = Array.from({ length: 15 }, (_, seed) =>
			ramp(seed + 1, { alphaAt: (bpm) => 0.86 - 0.0025 * (bpm - 110) })
		);
		const loose = weak.filter((beats) => {
			const windows = scalingWindows(cleanIntervals([beats]));
			const rates = windows.map((each) => each.meanRateBpm);
			return (
				sampleCorrelation(
					rates,
					windows.map((each) => each.alpha1!)
				) > -0.7
			);
		});
		expect(loose.length).toBeGreaterThan(5);
		for (const beats of loose) expect(opinionOn(beats)).toMatchObject({ confidence: 'none' });
	});

	it('where alpha-1 does not fall, or stays above 0.75', () => {
		for (let seed = 1; seed <= 6; seed++) {
			for (const alpha of [0.5, 0.62, 0.8, 1.1]) {
				const opinion = opinionOn(ramp(seed, { alphaAt: () => alpha }));
				expect(opinion).toEqual({
					artefactShare: opinion.artefactShare,
					confidence: 'none',
					reasons: ['Alpha-1 did not fall clearly as the heart rate rose.']
				});
				// None of these beats is faulty; 99.95 % of a normal distribution are within the threshold.
				expect(opinion.artefactShare).toBeLessThan(0.003);
			}
		}
		const above = opinionOn(ramp(12, { alphaAt: (bpm) => Math.min(1.2, 1.2 - 0.006 * (bpm - 120)) }));
		expect(above).toMatchObject({ confidence: 'none' });
		expect(above.aerobicBpm).toBeUndefined();
	});
});

describe('on any effort', () => {
	it('never answers NaN, and keeps to the rates that were reached', () => {
		const shapes = fc.record({
			seed: fc.integer({ min: 1, max: 1e6 }),
			minutes: fc.integer({ min: 1, max: 24 }),
			fromBpm: fc.integer({ min: 80, max: 150 }),
			riseBpm: fc.integer({ min: -20, max: 60 }),
			alpha: fc.double({ min: 0.45, max: 1.2, noNaN: true }),
			fall: fc.double({ min: 0, max: 0.02, noNaN: true }),
			every: fc.integer({ min: 15, max: 400 })
		});
		fc.assert(
			fc.property(shapes, ({ seed, minutes, fromBpm, riseBpm, alpha, fall, every }) => {
				const beats = effort({
					minutes,
					seed,
					bpmAt: (share) => fromBpm + riseBpm * share,
					alphaAt: (bpm) => Math.max(0.41, alpha - fall * Math.max(0, bpm - fromBpm))
				});
				const opinion = opinionOn(spoilt(beats, every));
				expect(numbersIn(opinion).every(Number.isFinite)).toBe(true);
				for (const bpm of [opinion.aerobicBpm, opinion.anaerobicBpm]) {
					expect(bpm === undefined || (bpm > fromBpm - 3 && bpm < fromBpm + riseBpm + 3)).toBe(true);
				}
				expect(opinion.confidence === 'fair' || opinion.reasons.length > 0).toBe(true);
			}),
			{ numRuns: 60 }
		);
	});

	it('shifts nothing when everything happens later by whole seconds', () => {
		const later = ramp(13).map(({ ms, rrMs }) => ({ ms: ms + 333_000, rrMs }));
		expect(opinionOn(later)).toEqual(opinionOn(ramp(13)));
	});
});
