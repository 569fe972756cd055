import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fadeOf } from '$lib/physiology/fade';
import type { Verdict } from '$lib/physiology/recovery';
import { numbersIn } from './builders';

const judged = (round: number, drop60: number, verdict: Verdict = 'in the band') => ({
	round,
	drop60,
	verdict
});

describe('fadeOf', () => {
	it('works out slope and error as by hand', () => {
		// Rounds 1 to 4, drops 52 50 45 43: slope -16 / 5 = -3.2, residuals -0.3 0.9 -0.9 0.3, sum of squares
		// 1.8, error sqrt(1.8 / 2 / 5) = 0.4243 (ordinary least squares, worked out by hand).
		const fade = fadeOf([judged(1, 52), judged(2, 50), judged(3, 45), judged(4, 43)])!;
		expect(fade.slopeBpm).toBeCloseTo(-3.2, 10);
		expect(fade.slopeErrorBpm).toBeCloseTo(Math.sqrt(0.18), 10);
		expect(fade).toMatchObject({ restCount: 4, trend: 'fading' });
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
				expect(fade.slopeErrorBpm).toBeCloseTo(Math.sqrt(sse / (points.length - 2) / sxx), 6);
				expect(numbersIn(fade).every(Number.isFinite)).toBe(true);
			})
		);
	});

	it('calls a fade clear only beyond two errors, in either direction', () => {
		// Of three equally spaced drops the slope is (c - a) / 2 and its error |a - 2b + c| / sqrt 12: 2.17 and 1.73
		// errors here.
		expect(fadeOf([judged(1, 50), judged(2, 49), judged(3, 40)])?.trend).toBe('fading');
		expect(fadeOf([judged(1, 50), judged(2, 50), judged(3, 40)])?.trend).toBe('no clear fade');
		expect(fadeOf([judged(1, 50), judged(2, 42), judged(3, 49)])?.trend).toBe('no clear fade');
		expect(fadeOf([judged(1, 50), judged(2, 50), judged(3, 50)])?.trend).toBe('no clear fade');
		expect(fadeOf([judged(1, 43), judged(2, 45), judged(3, 50), judged(4, 52)])?.trend).toBe(
			'coming down further'
		);
	});

	it('waits for three judged rests of different rounds', () => {
		const two = [judged(1, 52), judged(2, 50)];
		expect(fadeOf(two)).toBeUndefined();
		expect(fadeOf([...two, judged(3, 44, 'not judged')])).toBeUndefined();
		expect(fadeOf([judged(2, 52), judged(2, 50), judged(2, 40)])).toBeUndefined();
		expect(fadeOf([...two, judged(3, 44, 'under the band')])?.restCount).toBe(3);
	});
});
