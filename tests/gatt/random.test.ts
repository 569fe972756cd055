import { expect, it } from 'vitest';
import { seededRandom } from '$lib/gatt/random';

const draw = (count: number, next: () => number) => Array.from({ length: count }, next);
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

it('gives the same numbers for the same seed and others for the next', () => {
	const first = draw(20, seededRandom(3).uniform);

	expect(draw(20, seededRandom(3).uniform)).toEqual(first);
	expect(draw(20, seededRandom(4).uniform)).not.toEqual(first);
});

it.each([0, 1, -1, 2 ** 31, 1764057600123, 0.5])('spreads evenly from seed %d', (seed) => {
	const values = draw(20_000, seededRandom(seed).uniform);
	const tenths = draw(10, () => 0).map(
		(_, tenth) => values.filter((value) => Math.floor(value * 10) === tenth).length
	);

	expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
	expect(Math.max(...values)).toBeLessThan(1);
	// Each tenth expects 2000, SD 42: five of them either way.
	for (const count of tenths) expect(Math.abs(count - 2000)).toBeLessThan(212);
});

it('gives normal numbers of mean 0 and standard deviation 1', () => {
	const values = draw(20_000, seededRandom(11).normal);

	expect(Math.abs(mean(values))).toBeLessThan(0.035);
	expect(Math.abs(mean(values.map((value) => value ** 2)) - 1)).toBeLessThan(0.05);
	expect(values.filter((value) => Math.abs(value) < 1.96).length / values.length).toBeCloseTo(0.95, 2);
});
