import { describe, expect, it } from 'vitest';
import { taperReductions, taperShares } from '$lib/physiology/taper';

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

// Bosquet et al., Med Sci Sports Exerc 2007;39:1358-65: two weeks, exponentially, 41 to 60 % less.
describe('the taper', () => {
	it.each([taperReductions.least, taperReductions.most])('takes %d off the fortnight', (reduction) => {
		expect(sum(taperShares(reduction))).toBeCloseTo(14 * (1 - reduction), 9);
	});

	it('falls by one factor from day to day, from under the usual day on', () => {
		const shares = taperShares(0.5);
		expect(shares[0]).toBeLessThan(1);
		for (let i = 1; i < 14; i++) expect(shares[i]! / shares[i - 1]!).toBeCloseTo(shares[0]!, 9);
	});

	it('by hand: 0.9262 a day for 41 %, since 0.9262 (1 - 0.9262^14) / (1 - 0.9262) = 8.26', () => {
		expect(taperShares(0.41)[0]).toBeCloseTo(0.9262, 4);
	});
});
