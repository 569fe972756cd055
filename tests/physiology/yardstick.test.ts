import { describe, expect, it } from 'vitest';
import { yardsticks, type Yardstick } from '$lib/physiology/yardstick';

const { drop, rateShare, tau, restingRate } = yardsticks;
const threshold: Yardstick = yardsticks.threshold;

describe('the scales that changes are judged on', () => {
	// 2 beats are one error up to a drop of 10, and 20 % of it from there on: there a step of e is five errors.
	it.each([
		[0, 0],
		[2, 1],
		[-7, -3.5],
		[10, 5],
		[-10, -5],
		[10 * Math.E, 10],
		[-10 * Math.E, -10],
		[10 * Math.exp(0.2), 6]
	])('hold a drop of %d for %d errors', (bpm, units) => {
		expect(drop.toUnits(bpm)).toBeCloseTo(units, 9);
		expect(drop.fromUnits(units)).toBeCloseTo(bpm, 9);
	});

	it('are logarithms where the error is a share of the value', () => {
		for (const [yardstick, share] of [
			[rateShare, 0.08],
			[tau, 0.35],
			[restingRate, 0.1]
		] as const) {
			expect(yardstick.toUnits(60 * Math.exp(share)) - yardstick.toUnits(60)).toBeCloseTo(1, 9);
			expect(yardstick.fromUnits(yardstick.toUnits(60) + 2)).toBeCloseTo(60 * Math.exp(2 * share), 9);
			expect(yardstick.errorAt(60)).toBeCloseTo(60 * share, 9);
		}
	});

	it('are straight for a threshold, of which 4 beats are one error everywhere', () => {
		expect([threshold.toUnits(160), threshold.fromUnits(40)]).toEqual([40, 160]);
		expect([threshold.errorAt(120), threshold.errorAt(190)]).toEqual([4, 4]);
	});
});

describe('the errors behind them', () => {
	it('are halved between days and the rests of one day for drops and rates after a minute alone', () => {
		expect(drop.withinDay).toBeCloseTo(0.5, 12);
		expect(rateShare.withinDay).toBeCloseTo(0.5, 12);
		expect([threshold, tau, restingRate].map(({ withinDay }) => withinDay)).toEqual([0, 0, 0]);
	});

	it('are those of the methods', () => {
		expect(drop).toMatchObject({
			leastError: 2,
			leastDays: 3,
			ownFromDays: 5,
			degrees: 5,
			weight: 3,
			small: 10
		});
		expect(threshold).toMatchObject({ leastError: 0, leastDays: 2, ownFromDays: 3, degrees: 10, weight: 10 });
		for (const yardstick of [rateShare, tau, restingRate])
			expect(yardstick).toMatchObject({
				leastError: 0,
				leastDays: 3,
				ownFromDays: 5,
				degrees: 5,
				weight: 3,
				small: 0
			});
		expect(Object.values(yardsticks).map(({ unit }) => unit)).toEqual([
			'beats',
			'% of the threshold',
			'beats a minute',
			'seconds',
			'beats a minute'
		]);
	});
});
