import fc from '../by-chance';
import { linearRegression, linearRegressionLine, mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { cleanIntervals } from '$lib/physiology/rr-intervals';
import { alpha1, detrended, scalingWindows } from '$lib/physiology/short-term-scaling';
import { chanceFrom, numbersIn } from './builders';
import { hasRecordings, ofRecordings, recorded } from './open-recordings';
import { outside } from './outside';
import { alphaOfAutoregression, effort, logSlope } from './scaling-noise';

const white = (count: number, seed: number) => {
	const chance = chanceFrom(seed);
	return Array.from({ length: count }, () => 800 + 20 * chance.normal());
};
const brownian = (count: number, seed: number) => {
	let sum = 0;
	return white(count, seed).map((each) => (sum += each - 800) + 8000);
};
const autoregression = (count: number, seed: number, phi: number) => {
	let last = 0;
	return white(count, seed).map((each) => (last = phi * last + (each - 800)) + 800);
};
const alphasOf = (make: (seed: number) => number[], count: number) =>
	Array.from({ length: count }, (_, seed) => alpha1(make(seed + 1))!);

describe('alpha-1 of recorded series', () => {
	// Sample data of the Python package `pyhrv` (BSD-3), whose convention is the mean of the boxes; the published
	// definition, Peng et al., Chaos 1995;5:82-87, is the RMS of all residuals. Listed with the recordings.
	const printed = outside(
		'alpha-1',
		'Results printed with two open recordings, by both conventions (Python package pyhrv; Peng 1995)',
		''
	);
	it.runIf(hasRecordings)(ofRecordings('337 intervals have both published values'), () => {
		const series = recorded('rr-337.txt');
		expect(printed.take(alpha1(series)!, 0.66521554)).toBeLessThan(5e-9);
		expect(printed.take(alpha1(series, 'mean of boxes')!, 0.7561188632100411)).toBeLessThan(1e-12);
	});

	it.runIf(hasRecordings)(ofRecordings('4684 intervals have both published values'), () => {
		const series = recorded('rr-4684.txt');
		expect(printed.take(alpha1(series)!, 1.0907)).toBeLessThan(5e-5);
		expect(printed.take(alpha1(series, 'mean of boxes')!, 1.197)).toBeLessThan(5e-4);
	});

	it.runIf(hasRecordings)(ofRecordings('come to what Methods says'), () => {
		printed.settle();
	});

	it.runIf(hasRecordings)(ofRecordings('detrending moves 300 beats at rest by under 0.03'), () => {
		for (const name of ['rr-337.txt', 'rr-4684.txt', 'rr-1000.txt', 'rr-rest-910.txt']) {
			const series = recorded(name);
			const moves: number[] = [];
			for (let from = 0; from + 300 <= series.length; from += 300) {
				const piece = series.slice(from, from + 300);
				moves.push(Math.abs(alpha1(detrended(piece))! - alpha1(piece)!));
			}
			expect(Math.max(...moves)).toBeLessThan(0.03);
		}
	});
});

describe('alpha-1 of noise', () => {
	// The limits for long boxes are 0.5 and 1.5 (Peng et al. 1995). For boxes of n with a straight line taken out
	// the expected F(n) squared is exactly (n^2 - 4) / (15 n) for white noise of unit variance and
	// (n^2 - 4)(n^2 + 5) / (420 n) for its running sum (computed).
	const expectedWhite = logSlope((n) => Math.sqrt((n * n - 4) / (15 * n)));
	const expectedBrownian = logSlope((n) => Math.sqrt(((n * n - 4) * (n * n + 5)) / (420 * n)));

	it('is biased in short boxes by 0.083 for white noise and 0.002 for Brownian', () => {
		expect(expectedWhite - 0.5).toBeCloseTo(0.083, 3);
		expect(expectedBrownian - 1.5).toBeCloseTo(0.002, 3);
		expect(alphaOfAutoregression(0)).toBeCloseTo(expectedWhite, 10);
		expect(alpha1(white(200_000, 1))).toBeCloseTo(expectedWhite, 2);
		expect(Math.abs(alpha1(brownian(200_000, 2))! - expectedBrownian)).toBeLessThan(0.01);
	});

	it('keeps that bias, and scatters by 0.05, in the 300 beats of two hard minutes', () => {
		const whites = alphasOf((seed) => white(300, seed), 400);
		expect(Math.abs(mean(whites) - expectedWhite)).toBeLessThan(0.01);
		expect(standardDeviation(whites)).toBeGreaterThan(0.04);
		expect(standardDeviation(whites)).toBeLessThan(0.06);
		const browns = alphasOf((seed) => brownian(300, seed), 400);
		expect(Math.abs(mean(browns) - expectedBrownian)).toBeLessThan(0.03);
	});

	it('scatters by 0.1 with the fewest intervals it takes', () => {
		const whites = alphasOf((seed) => white(64, seed), 400);
		expect(Math.abs(mean(whites) - expectedWhite)).toBeLessThan(0.02);
		expect(standardDeviation(whites)).toBeGreaterThan(0.08);
		expect(standardDeviation(whites)).toBeLessThan(0.13);
	});

	// For first-order autoregressions the expectation is exact too (cf. Hoell & Kantz, Eur Phys J B 2015;88:126,
	// volume and page from memory).
	it.each([-0.3, 0.3, 0.6, 0.9])('meets its expectation for an autoregression of %d', (phi) => {
		expect(Math.abs(alpha1(autoregression(200_000, 3, phi))! - alphaOfAutoregression(phi))).toBeLessThan(
			0.01
		);
	});

	it('reads higher by the mean of the boxes, as the documentation says', () => {
		const gaps = Array.from({ length: 100 }, (_, seed) => {
			const series = white(300, seed + 1);
			return alpha1(series, 'mean of boxes')! - alpha1(series)!;
		});
		expect(mean(gaps)).toBeGreaterThan(0.03);
		expect(mean(gaps)).toBeLessThan(0.07);
	});
});

describe('alpha1', () => {
	it('agrees with simple-statistics box by box, by both conventions', () => {
		const series = white(150, 9);
		let y = 0;
		const profile = series.map((each) => (y += each - mean(series)));
		const boxesOf = (n: number) =>
			Array.from({ length: Math.floor(150 / n) }, (_, box) => {
				const points = profile.slice(box * n, box * n + n).map((each, k): [number, number] => [k, each]);
				const line = linearRegressionLine(linearRegression(points));
				return mean(points.map(([k, each]) => (each - line(k)) ** 2));
			});
		expect(alpha1(series)).toBeCloseTo(
			logSlope((n) => Math.sqrt(mean(boxesOf(n)))),
			9
		);
		expect(alpha1(series, 'mean of boxes')).toBeCloseTo(
			logSlope((n) => mean(boxesOf(n).map(Math.sqrt))),
			9
		);
	});

	it('refuses what it cannot scale', () => {
		expect(alpha1(white(64, 1))).toBeGreaterThan(0);
		expect(alpha1(white(63, 1))).toBeUndefined();
		expect(alpha1([])).toBeUndefined();
		expect(alpha1(new Array(300).fill(400))).toBeUndefined();
		expect(alpha1(new Array(300).fill(1000 / 1.024 / 3))).toBeUndefined();
		expect(alpha1(white(100, 1).with(50, NaN))).toBeUndefined();
		expect(alpha1(white(100, 1).with(50, Infinity))).toBeUndefined();
	});

	it('never answers NaN, and does not ask in what unit or about what mean', () => {
		fc.assert(
			fc.property(
				fc.array(fc.integer({ min: 240, max: 2000 }), { minLength: 0, maxLength: 150 }),
				fc.integer({ min: 0, max: 1000 }),
				(series, byMs) => {
					const alpha = alpha1(series);
					expect(numbersIn(alpha).every(Number.isFinite)).toBe(true);
					if (alpha === undefined) return;
					expect(alpha1(series.map((each) => each + byMs))).toBeCloseTo(alpha, 6);
					expect(alpha1(series.map((each) => each / 1000))).toBeCloseTo(alpha, 6);
				}
			)
		);
	});
});

describe('detrended', () => {
	it('leaves a trend that solves the equations of the priors', () => {
		// Tarvainen, Ranta-aho, Karjalainen, IEEE Trans Biomed Eng 2002;49:172-175: (I + lambda^2 D'D) trend = z, D
		// the second differences. Put in, not solved once more; the left side amplifies rounding by lambda^2.
		const z = brownian(90, 4);
		for (const lambda of [0.5, 10, 500]) {
			const trend = Array.from(detrended(z, lambda), (residual, i) => z[i]! - residual);
			const bend = (i: number) => (i < 1 || i > 88 ? 0 : trend[i - 1]! - 2 * trend[i]! + trend[i + 1]!);
			z.forEach((each, i) => {
				const roughness = bend(i - 1) - 2 * bend(i) + bend(i + 1);
				expect(trend[i]! + lambda ** 2 * roughness).toBeCloseTo(each, 4);
			});
		}
	});

	it('takes a straight line wholly and hardly a fast wave', () => {
		const line = Array.from({ length: 300 }, (_, i) => 500 - 0.4 * i);
		expect(Math.max(...detrended(line).map(Math.abs))).toBeLessThan(1e-6);
		const gainOf = (periodBeats: number) => {
			const wave = Array.from({ length: 4000 }, (_, i) => Math.sin((2 * Math.PI * i) / periodBeats));
			return Math.max(...detrended(wave).slice(1500, 2500));
		};
		// Gain lambda^2 w^4 / (1 + lambda^2 w^4) with w = 2 sin(pi / period): 0.707 at 113 beats.
		expect(gainOf(113)).toBeCloseTo(Math.SQRT1_2, 2);
		expect(gainOf(16)).toBeGreaterThan(0.999);
	});

	it('leaves nothing of one, two or no values, or with lambda 0', () => {
		expect([...detrended([])]).toEqual([]);
		expect([...detrended([800])]).toEqual([0]);
		expect([...detrended([800, 900])]).toEqual([0, 0]);
		expect([...detrended([800, 900, 700, 800], 0)]).toEqual([0, 0, 0, 0]);
	});
});

describe('scalingWindows', () => {
	const steady = (seed: number, minutes = 4) =>
		effort({ minutes, bpmAt: () => 150, alphaAt: () => 0.9, seed });
	const windowsOf = (...stretches: { ms: number; rrMs: number }[][]) =>
		scalingWindows(cleanIntervals(stretches));

	it('reads two minutes every five seconds', () => {
		const windows = windowsOf(steady(1));
		const firstMs = steady(1)[0]!.ms;
		expect(windows.map((each) => each.fromMs)).toEqual(windows.map((_, i) => firstMs + 5000 * i));
		expect(windows).toHaveLength(24);
		for (const { fromMs, toMs, meanRateBpm, correctedShare } of windows) {
			expect([toMs - fromMs, correctedShare]).toEqual([120_000, 0]);
			expect(Math.abs(meanRateBpm - 150)).toBeLessThan(0.5);
		}
	});

	it('reads the detrended beats of its window and no others', () => {
		const beats = steady(2);
		const [, second] = windowsOf(beats);
		const inside = beats.filter(({ ms }) => ms >= second!.fromMs && ms < second!.toMs);
		expect(second!.alpha1).toBe(alpha1(detrended(inside.map(({ rrMs }) => rrMs))));
	});

	it('finds the exponent that is there, on average', () => {
		for (const alpha of [0.5, 0.75, 1.1]) {
			const found = Array.from(
				{ length: 40 },
				(_, seed) =>
					windowsOf(effort({ minutes: 2.2, bpmAt: () => 150, alphaAt: () => alpha, seed: seed + 1 }))[0]!
						.alpha1!
			);
			expect(Math.abs(mean(found) - alpha)).toBeLessThan(0.03);
		}
	});

	it('never reaches across a gap', () => {
		const before = steady(3);
		const after = steady(4).map(({ ms, rrMs }) => ({ ms: ms + 300_000, rrMs }));
		expect(windowsOf(before, after)).toEqual([...windowsOf(before), ...windowsOf(after)]);
		// Two stretches of under two minutes give nothing, however close they lie.
		const cut = steady(3, 3.9);
		expect(windowsOf(cut.slice(0, 290), cut.slice(290))).toEqual([]);
		expect(windowsOf(cut)).not.toEqual([]);
	});

	it('shifts nothing when everything happens later by whole seconds', () => {
		const later = steady(5).map(({ ms, rrMs }) => ({ ms: ms + 777_000, rrMs }));
		const strip = (windows: ReturnType<typeof windowsOf>) => windows.map((each) => each.alpha1);
		expect(strip(windowsOf(later))).toEqual(strip(windowsOf(steady(5))));
	});

	it('reads the series put right: a missed beat put in, an extra one taken out', () => {
		const beats = steady(6);
		// One beat missed at 100, one counted twice at 200.
		const spoilt = [
			...beats.slice(0, 100),
			{ ms: beats[101]!.ms, rrMs: beats[100]!.rrMs + beats[101]!.rrMs },
			...beats.slice(102, 200),
			{ ms: beats[200]!.ms - 250, rrMs: beats[200]!.rrMs - 250 },
			{ ms: beats[200]!.ms, rrMs: 250 },
			...beats.slice(201)
		];
		const [whole] = windowsOf(beats);
		const [filled] = windowsOf(spoilt);
		expect(filled!.correctedShare).toBeCloseTo(3 / 300, 3);
		expect(Math.abs(filled!.meanRateBpm - whole!.meanRateBpm)).toBeLessThan(0.3);
		expect(Math.abs(filled!.alpha1! - whole!.alpha1!)).toBeLessThan(0.05);
	});

	it('withholds alpha-1 over 5 % put right', () => {
		const missing = (every: number) =>
			steady(7).map(({ ms, rrMs }, i) => ({ ms, rrMs: i % every === 9 ? 230 : rrMs }));
		const shares = windowsOf(missing(18));
		expect(shares[0]!.correctedShare).toBeGreaterThan(0.05);
		expect(shares.every((each) => each.alpha1 === undefined)).toBe(true);
		expect(windowsOf(missing(22)).every((each) => each.alpha1 !== undefined)).toBe(true);
	});

	it('ends where more than three beats would have to be filled in', () => {
		const withOne = (rrMs: number) =>
			windowsOf(steady(8).map((each, i) => (i === 300 ? { ...each, rrMs } : each)));
		expect(withOne(1300)).toHaveLength(24);
		expect(withOne(1500)).toEqual([]);
	});

	it('never answers NaN', () => {
		const anyRr = fc.oneof(
			{ weight: 30, arbitrary: fc.integer({ min: 480, max: 520 }) },
			{ weight: 1, arbitrary: fc.constantFrom(0, 250, 1000, 1600, NaN, 65_535) }
		);
		fc.assert(
			fc.property(fc.array(anyRr, { minLength: 200, maxLength: 400 }), (list) => {
				const beats = list.map((rrMs, i) => ({ ms: 500 * i, rrMs }));
				expect(numbersIn(windowsOf(beats)).every(Number.isFinite)).toBe(true);
			}),
			{ numRuns: 50 }
		);
		const ramp = Array.from({ length: 400 }, (_, i) => ({ ms: 450 * i, rrMs: 500 - 0.25 * i }));
		expect(windowsOf(ramp).every((each) => each.alpha1 === undefined)).toBe(true);
	});
});
