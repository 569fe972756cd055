import fc from '../by-chance';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fadeOf } from '$lib/physiology/fade';
import type { Verdict } from '$lib/physiology/recovery';
import { chanceFrom, numbersIn } from './builders';

const judged = (round: number, drop60: number, verdict: Verdict = 'in the band') => ({
	round,
	drop60,
	verdict
});

describe('fadeOf', () => {
	it('works out slope and error as by hand', () => {
		// Rounds 1 to 4, drops 52 50 45 43: slope -16 / 5 = -3.2, residuals -0.3 0.9 -0.9 0.3, sum of squares
		// 1.8, error of the fit sqrt(1.8 / 2 / 5) = 0.4243 (ordinary least squares, worked out by hand). The rests'
		// own: 20 % of the mean of 47.5 over the root of two (half the variance) and of 5 is 3.004, which is larger.
		const fade = fadeOf([judged(1, 52), judged(2, 50), judged(3, 45), judged(4, 43)])!;
		expect(fade.slopeBpm).toBeCloseTo(-3.2, 10);
		expect(fade.slopeErrorBpm).toBeCloseTo(3.004, 3);
		expect(fade).toMatchObject({ restCount: 4, trend: 'no clear change' });
	});

	it('agrees with simple-statistics and the textbook error on any rests', () => {
		const anyRests = fc.array(fc.tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: -10, max: 90 })), {
			minLength: 3,
			maxLength: 15
		});
		fc.assert(
			fc.property(anyRests, (points) => {
				fc.pre(new Set(points.map(([round]) => round)).size > 1);
				const fade = fadeOf(points.map(([round, drop60]) => judged(round, drop60)))!;
				const { m, b } = linearRegression(points);
				const meanRound = points.reduce((sum, [x]) => sum + x, 0) / points.length;
				const sse = points.reduce((sum, [x, y]) => sum + (y - b - m * x) ** 2, 0);
				const sxx = points.reduce((sum, [x]) => sum + (x - meanRound) ** 2, 0);
				expect(fade.slopeBpm).toBeCloseTo(m, 8);
				const meanDrop = points.reduce((sum, [, y]) => sum + y, 0) / points.length;
				const fitted = Math.sqrt(sse / (points.length - 2) / sxx);
				const least = (Math.max(2, 0.2 * Math.abs(meanDrop)) * Math.SQRT1_2) / Math.sqrt(sxx);
				expect(fade.slopeErrorBpm).toBeCloseTo(Math.max(fitted, least), 6);
				expect(numbersIn(fade).every(Number.isFinite)).toBe(true);
			})
		);
	});

	it('claims a trend only beyond what rests differ by themselves', () => {
		const trendOf = (...drops: number[]) => fadeOf(drops.map((drop, i) => judged(i + 1, drop)))?.trend;
		// Three equally spaced drops: the slope is (c - a) / 2, its least error 0.2 x mean / root 2 / root 2, so 4 for
		// a mean of 40 and 4.9 for one of 49; 1.96 of them are 7.84 and 9.6.
		expect(trendOf(60, 40, 20)).toBe('fading');
		expect(trendOf(20, 40, 60)).toBe('coming down further');
		expect(trendOf(50, 49, 48)).toBe('no clear change');
		expect(trendOf(58, 49, 40)).toBe('no clear change');
		expect(trendOf(50, 50, 50)).toBe('no clear change');
	});

	it('claims none where the drops lie far off their line: Student’s t of 12.706 for three, 4.303 for four', () => {
		const trendOf = (...drops: number[]) => fadeOf(drops.map((drop, i) => judged(i + 1, drop)))?.trend;
		// Slope -15, error of the fit |60 - 2 x 40 + 30| / root 12 = 2.89: 5.2 errors.
		expect(trendOf(60, 40, 30)).toBe('no clear change');
		// Slope -9, residuals 1 -2 1 0, sum of squares 6, error of the fit root (3 / 5) = 0.77: 11.6 errors; the rests'
		// own is 0.2 x 46.5 / root 2 / root 5 = 2.94, of which it is 3.06.
		expect(trendOf(61, 49, 43, 33)).toBe('fading');
	});

	it('tells small drops not apart, up or down', () => {
		expect(fadeOf([judged(1, 10), judged(2, 0), judged(3, -10)])?.trend).toBe('no clear change');
	});

	it('tells at most one session without a trend in twenty of one, in 10,000 by chance', () => {
		const chance = chanceFrom(17);
		// Scatter of 14 % from rest to rest, in whole beats, by a lognormal law.
		const dropOf = (mean: number) => Math.round(mean * Math.exp(0.141 * chance.normal() - 0.01));
		for (const count of [3, 6, 12]) {
			const told = Array.from({ length: 10_000 }, (_, i) => {
				const mean = [25, 35, 45][i % 3]!;
				return fadeOf(Array.from({ length: count }, (_, j) => judged(j + 1, dropOf(mean))))!.trend;
			}).filter((trend) => trend !== 'no clear change').length;
			expect(told / 10_000).toBeLessThan(0.05);
			// A rule that never speaks would pass too.
			expect(told).toBeGreaterThan(0);
		}
	});

	it('waits for three judged rests of different rounds', () => {
		const two = [judged(1, 52), judged(2, 50)];
		expect(fadeOf(two)).toBeUndefined();
		expect(fadeOf([...two, judged(3, 44, 'not judged')])).toBeUndefined();
		expect(fadeOf([judged(2, 52), judged(2, 50), judged(2, 40)])).toBeUndefined();
		expect(fadeOf([...two, judged(3, 44, 'under the band')])?.restCount).toBe(3);
	});
});
