import fc from '../by-chance';
import { mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { quietTimeS, restingRate } from '$lib/physiology/resting';
import { anyGrid, delayed, numbersIn, withGaps } from './builders';

const upTo = (count: number, from = 0) => Array.from({ length: count }, (_, i) => from + i);

/** Five minutes that settle from 80 to 60 and have one minute at 55, from second `quietS` on. */
const quiet = (quietS: number) =>
	Float64Array.from({ length: quietTimeS }, (_, i) =>
		i >= quietS && i < quietS + 60 ? 55 : Math.max(60, 80 - i / 3)
	);

// The window, its 54 readings and the first minute left out are the page's own rule, no source.
describe('restingRate', () => {
	it('is the lowest minute of the last four', () => {
		expect(restingRate(quiet(147), 0).value).toEqual({ bpm: 55, atS: 147, coverage: 1 });
		expect(restingRate(quiet(240), 0).value).toMatchObject({ bpm: 55, atS: 240 });
	});

	it('does not look at the first minute', () => {
		const { value } = restingRate(quiet(0), 0);
		expect(value?.bpm).toBeCloseTo(60, 10);
		expect(restingRate(quiet(60), 0).value?.atS).toBe(60);
	});

	it('takes the first of equal minutes', () => {
		expect(restingRate(new Float64Array(quietTimeS).fill(58), 0).value?.atS).toBe(60);
	});

	it('needs 54 readings in a minute', () => {
		const one = quiet(147).fill(NaN, 0, 147).fill(NaN, 207);
		expect(restingRate(withGaps(one, upTo(6, 150)), 0).value).toMatchObject({ bpm: 55, coverage: 54 / 240 });
		const { value, reason } = restingRate(withGaps(one, upTo(7, 150)), 0);
		expect(value).toBeUndefined();
		expect(reason).toMatch(/No minute has 54 readings/);
	});

	it('waits for the five minutes to be over', () => {
		expect(restingRate(quiet(147).subarray(0, 299), 0).reason).toMatch(/not over/);
		expect(restingRate(quiet(147), 1).reason).toMatch(/not over/);
		expect(restingRate(quiet(147), -1).reason).toMatch(/not over/);
		expect(restingRate(quiet(147), NaN).reason).toMatch(/not over/);
	});

	it('agrees with the means of all windows, one by one', () => {
		fc.assert(
			fc.property(anyGrid(quietTimeS, quietTimeS + 20), (grid) => {
				const means = upTo(181, 60).flatMap((startS) => {
					const there = Array.from(grid.subarray(startS, startS + 60)).filter((bpm) => !Number.isNaN(bpm));
					return there.length >= 54 ? [mean(there)] : [];
				});
				const { value } = restingRate(grid, 0);
				expect(value === undefined).toBe(means.length === 0);
				if (value) expect(value.bpm).toBeCloseTo(Math.min(...means), 9);
			})
		);
	});

	it('never answers NaN, and shifts nothing with its start', () => {
		fc.assert(
			fc.property(anyGrid(0, 320), fc.integer({ min: 0, max: 500 }), (grid, byS) => {
				const now = restingRate(grid, 0);
				const later = restingRate(delayed(grid, byS), byS);
				expect(numbersIn(now).every(Number.isFinite)).toBe(true);
				expect(now.value === undefined).toBe(now.reason !== undefined);
				expect(later).toEqual(now.value ? { value: { ...now.value, atS: now.value.atS + byS } } : now);
			})
		);
	});
});
