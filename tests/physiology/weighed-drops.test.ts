import { describe, expect, it } from 'vitest';
import { WeighedDrops } from '$lib/physiology/weighed-drops';

type Drop = [mean: number, variance: number, logWeight: number];

function quantilesOf(drops: Drop[], shares: number[]): number[] {
	const weighed = new WeighedDrops(drops.length);
	for (const drop of drops) weighed.push(...drop);
	return weighed.quantiles(shares);
}

function expectClose(actual: number[], expected: number[]): void {
	expect(actual).toHaveLength(expected.length);
	actual.forEach((bpm, i) => expect(bpm).toBeCloseTo(expected[i]!, 9));
}

/** Quarters of a beat are counted together; a share lies in one of these by the part of its weight. */
describe('weighed drops', () => {
	it('that are certain lie within a quarter of a beat', () => {
		expectClose(quantilesOf([[40, 0, 0]], [0.1, 0.5, 0.9]), [40.025, 40.125, 40.225]);
		expectClose(quantilesOf([[40, 0, 123]], [0.5]), [40.125]);
	});

	it('that are uncertain are five equal fifths: their middles lie 0.5244 and 1.2816 deviations off', () => {
		// 27.184, 34.756, 40, 45.244 and 52.816, and half-way through the quarter that holds each.
		expectClose(
			quantilesOf([[40, 100, 0]], [0.1, 0.3, 0.5, 0.7, 0.9]),
			[27.125, 34.875, 40.125, 45.125, 52.875]
		);
	});

	it('count by their weights', () => {
		const drops: Drop[] = [
			[30, 0, Math.log(3) - 50],
			[50, 0, -50]
		];

		// Three parts at 30, one at 50: 0.15 of four parts are a fifth of the three, 0.8 leave 0.2 for the last one.
		expectClose(quantilesOf(drops, [0.15, 0.6, 0.8, 0.95]), [30.05, 30.2, 50.05, 50.2]);
		expectClose(quantilesOf([...drops].reverse(), [0.15, 0.6, 0.8, 0.95]), [30.05, 30.2, 50.05, 50.2]);
	});

	it('that weigh less than a millionth beside the best are left out', () => {
		// exp(-13) is 2.3 millionths, exp(-14) 0.8.
		expect(
			quantilesOf(
				[
					[30, 0, 0],
					[50, 0, -13]
				],
				[0.999999]
			)[0]
		).toBeGreaterThan(50);
		expect(
			quantilesOf(
				[
					[30, 0, 0],
					[50, 0, -14]
				],
				[0.999999]
			)[0]
		).toBeCloseTo(30.25, 5);
	});

	it('beyond any drop there is lie at the ends of the scale, -210 and 210', () => {
		expectClose(quantilesOf([[-300, 0, 0]], [0.5]), [-209.875]);
		expectClose(quantilesOf([[300, 0, 0]], [0.5]), [209.875]);
		expectClose(quantilesOf([[-210, 0, 0]], [0.4]), [-209.9]);
	});
});
