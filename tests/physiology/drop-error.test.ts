import { describe, expect, it } from 'vitest';
import { doDropsDiffer, restErrorOf, typicalErrorOf } from '$lib/physiology/drop-error';

describe('comparing single drops', () => {
	// 20 % and 2.8 errors: Bosquet et al. 2008, as drop-error.ts names it.
	it('calls two drops different only beyond 2.8 typical errors of their mean', () => {
		expect(typicalErrorOf(50)).toBe(10);
		expect(typicalErrorOf(-10)).toBe(2);
		expect(doDropsDiffer(30, 55)).toBe(true);
		expect(doDropsDiffer(35, 55)).toBe(false);
		expect(doDropsDiffer(55, 30)).toBe(true);
		// 2.8 times the floor of 2 beats is 5.6.
		expect(doDropsDiffer(7, 12)).toBe(false);
		expect(doDropsDiffer(5, 13)).toBe(true);
	});

	it('tells small drops not apart, equal or opposite', () => {
		expect(doDropsDiffer(-6, 6)).toBe(false);
		expect(doDropsDiffer(0, 0)).toBe(false);
		expect(doDropsDiffer(-10, 9)).toBe(false);
	});

	it('gives half of the variance to the rests of one day', () => {
		// 20 % of 50 over the root of two.
		expect(restErrorOf(50)).toBeCloseTo(7.071, 3);
		expect(typicalErrorOf(0)).toBe(2);
	});
});
