import { expect, it } from 'vitest';
import { quantileOf } from '$lib/physiology/quantile';

// Type 7 of Hyndman & Fan: the place among n values is share * (n - 1), counted from 0.
it.each([
	[[1, 2, 4], 0, 1],
	[[1, 2, 4], 0.25, 1.5],
	[[1, 2, 4], 0.5, 2],
	[[1, 2, 4], 0.75, 3],
	[[1, 2, 4], 1, 4],
	[[10, 20, 40, 80], 0.5, 30],
	[[10, 20, 40, 80], 0.9, 68],
	[[7], 0, 7],
	[[7], 0.3, 7],
	[[7], 1, 7]
])('of %j at %d is %d, on a straight line between its neighbours', (sorted, share, value) => {
	expect(quantileOf(sorted, share)).toBeCloseTo(value, 10);
	expect(quantileOf(Float64Array.from(sorted), share)).toBeCloseTo(value, 10);
});
