import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { readsLowBpm, thresholdFromRun, thresholdRunS } from '$lib/physiology/threshold';
import { anyGrid, delayed, numbersIn, withGaps } from './builders';
import { outside } from './outside';

/** Twenty minutes that climb from 160 to 180: mean 170. */
const run = () =>
	Float64Array.from({ length: thresholdRunS }, (_, i) => 160 + (20 * i) / (thresholdRunS - 1));

const upTo = (count: number) => Array.from({ length: count }, (_, i) => i);

describe('thresholdFromRun', () => {
	// Mean of a 20-minute run less 5 %: common practice, no source. 170 bpm gives 161.5.
	it('takes 5 % off the mean of twenty minutes', () => {
		const result = thresholdFromRun(run(), 0, { measuredMaxBpm: 195, feeling: 'something left' });
		expect(result.meanBpm).toBeCloseTo(170, 9);
		expect(result.bpm).toBeCloseTo(161.5, 9);
		expect(result).toMatchObject({ coverage: 1, confidence: 'fair', reasons: [] });
		expect(thresholdFromRun(new Float64Array(thresholdRunS).fill(170), 0).bpm).toBe(161.5);
	});

	it('reads exactly the twenty minutes from where they start', () => {
		const withWarmUp = Float64Array.from({ length: 2000 }, (_, i) => (i >= 300 && i < 1500 ? 170 : 60));
		expect(thresholdFromRun(withWarmUp, 300).meanBpm).toBe(170);
	});

	it('has low confidence under 95 % coverage and none under half', () => {
		expect(thresholdFromRun(withGaps(run(), upTo(60)), 0).confidence).toBe('fair');
		const low = thresholdFromRun(withGaps(run(), upTo(61)), 0);
		expect(low).toMatchObject({
			confidence: 'low',
			reasons: ['Readings cover only 94 % of the 20 minutes.']
		});
		expect(thresholdFromRun(run().subarray(0, 600), 0).confidence).toBe('low');
		const none = thresholdFromRun(run().subarray(0, 599), 0);
		expect(none).toMatchObject({ confidence: 'none' });
		expect(none.bpm).toBeUndefined();
		expect(none.reasons).toHaveLength(1);
		expect(thresholdFromRun(new Float64Array(0), 0).confidence).toBe('none');
	});

	it.each([
		['a pause', { paused: true }, 'The run was interrupted.'],
		[
			'a result under 75 % of the maximum',
			{ measuredMaxBpm: 216 },
			'The result is under 75 % of the measured maximum.'
		],
		[
			'a result over 95 % of the maximum',
			{ measuredMaxBpm: 169 },
			'The result is over 95 % of the measured maximum.'
		],
		[
			'an emptied athlete',
			{ feeling: 'emptied' as const },
			'The athlete finished emptied: the rate may be above what can be held.'
		],
		[
			'an easy run',
			{ feeling: 'far too easy' as const },
			'The athlete found it far too easy: the true threshold is likely higher.'
		]
	])('has low confidence after %s, and says so', (_, options, reason) => {
		expect(thresholdFromRun(run(), 0, options)).toMatchObject({ confidence: 'low', reasons: [reason] });
	});

	it('has low confidence where the last quarter is no higher than the first', () => {
		expect(thresholdFromRun(run().reverse(), 0).reasons).toEqual([
			'The last five minutes were no higher than the first five: the pace did not rise.'
		]);
		expect(thresholdFromRun(new Float64Array(thresholdRunS).fill(170), 0).confidence).toBe('low');
	});

	it('gives an estimate from age the benefit of its error', () => {
		// 208 - 0.7 x 40 = 180, SD 10 (Tanaka et al. 2001): 161.5 is within 75 % of 170 and 95 % of 190.
		expect(thresholdFromRun(run(), 0, { ageYears: 40 }).confidence).toBe('fair');
		// At 60 years 166 and SD 10: 95 % of 176 is 167.2; at 80, 152: 95 % of 162 is 153.9.
		expect(thresholdFromRun(run(), 0, { ageYears: 60 }).confidence).toBe('fair');
		expect(thresholdFromRun(run(), 0, { ageYears: 80 })).toMatchObject({
			confidence: 'low',
			reasons: ['The result is over 95 % of the maximum estimated from age, even allowing for its error.']
		});
		expect(thresholdFromRun(run(), 0, { ageYears: 80, measuredMaxBpm: 185 }).confidence).toBe('fair');
	});

	it('says how far the last five minutes lay above the first five', () => {
		// A straight line from 160 to 180: the outer quarters have their middles 15 beats apart.
		expect(thresholdFromRun(run(), 0).riseBpm).toBeCloseTo(15, 1);
		expect(thresholdFromRun(run().subarray(0, 800), 0).riseBpm).toBeUndefined();
	});

	it('never answers NaN, and shifts nothing with its start', () => {
		fc.assert(
			fc.property(anyGrid(0, 300), fc.integer({ min: 0, max: 100 }), (part, byS) => {
				const grid = Float64Array.from({ length: thresholdRunS }, (_, i) => part[i % 400] ?? NaN);
				const result = thresholdFromRun(grid, 0, { ageYears: 30 });
				expect(numbersIn(result).every(Number.isFinite)).toBe(true);
				expect(thresholdFromRun(delayed(grid, byS), byS, { ageYears: 30 })).toEqual(result);
			}),
			{ numRuns: 50 }
		);
	});
});

/**
 * A run as the page calls for it, of a runner whose true threshold is known: four paces of five minutes, which a
 * heart would settle at evenly from the first to the last, reached with a time constant (first-order on-kinetics, 30
 * to 60 s from memory), after a warm-up at 80 % of the threshold.
 */
function risingRun(thresholdBpm: number, firstBelowBpm: number, lastAboveBpm: number, tauS: number) {
	let bpm = 0.8 * thresholdBpm;
	return Float64Array.from({ length: thresholdRunS }, (_, s) => {
		const pace = Math.floor((4 * s) / thresholdRunS);
		const settled = thresholdBpm - firstBelowBpm + ((firstBelowBpm + lastAboveBpm) * pace) / 3;
		bpm += (settled - bpm) / tauS;
		return bpm;
	});
}

describe('a run with rising pace, of a runner whose threshold is known', () => {
	const truth = {
		'20-minute mean': outside(
			'threshold-run',
			'Simulated runs with rising pace whose threshold is known: the mean',
			'bpm'
		),
		'mean less 5 %': outside(
			'threshold-run',
			'Simulated runs with rising pace whose threshold is known: the mean less 5 %',
			'bpm'
		)
	};

	it('reads low by as much as the page says, by either reading', () => {
		const low = { '20-minute mean': [] as number[], 'mean less 5 %': [] as number[] };
		for (const thresholdBpm of [170, 175, 180])
			// Finished with something left: at the threshold, or just over it.
			for (const lastAboveBpm of [0, 2, 4])
				for (const firstBelowBpm of [5, 10, 14])
					for (const tauS of [30, 60]) {
						const { bpm, meanBpm } = thresholdFromRun(
							risingRun(thresholdBpm, firstBelowBpm, lastAboveBpm, tauS),
							0
						);
						low['20-minute mean'].push(truth['20-minute mean'].take(meanBpm!, thresholdBpm));
						low['mean less 5 %'].push(truth['mean less 5 %'].take(bpm!, thresholdBpm));
						expect(meanBpm).toBeLessThan(thresholdBpm);
					}
		for (const basis of ['20-minute mean', 'mean less 5 %'] as const) {
			expect(Math.round(Math.min(...low[basis]))).toBe(readsLowBpm[basis].low);
			expect(Math.round(Math.max(...low[basis]))).toBe(readsLowBpm[basis].high);
			truth[basis].settle();
		}
	});
});
