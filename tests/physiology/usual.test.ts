import { quantile } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { usualOf } from '$lib/physiology/usual';
import { outside } from './outside';

describe("the athlete's own usual", () => {
	const five = [[40, 42], [38], [45, 41], [39], [44]];

	it('is median and the middle four of five, from five sessions on', () => {
		// Type 7 (numpy's default): sorted 38 39 40 41 42 44 45; places 0.6, 3 and 5.4 of six.
		expect(usualOf(five)).toMatchObject({ sessionCount: 5, restCount: 7, middle: 41 });
		expect(usualOf(five)!.low).toBeCloseTo(38.6, 10);
		expect(usualOf(five)!.high).toBeCloseTo(44.4, 10);
		expect(usualOf(five)!.middle).toBe(quantile(five.flat(), 0.5));
	});

	// numpy.quantile (2.4.6, its default, type 7) of these drops at 0.1, 0.5 and 0.9.
	const byNumpy: [number[][], number[]][] = [
		[
			[[53, 24, 26, 38], [50, 34, 21], [38, 35], [37, 45, 44, 23, 49], [20]],
			[21.8, 37, 49.6]
		],
		[
			[[30, 34, 44], [23], [59, 47, 53, 36], [46], [49, 44, 39], [47]],
			[30.8, 44, 52.2]
		],
		[
			[
				[39],
				[43],
				[36, 42, 25],
				[48, 56, 28],
				[33, 36, 52, 28, 29],
				[45, 54],
				[33, 54],
				[51, 42, 52, 29, 26]
			],
			[28, 40.5, 53.8]
		]
	];

	it('has the quantiles of numpy', () => {
		const check = outside('usual', 'Quantiles by numpy (type 7) at 10, 50 and 90 %', 'beats');
		for (const [sessions, quantiles] of byNumpy) {
			const { low, middle, high } = usualOf(sessions)!;
			[low, middle, high].forEach((bpm, i) => expect(check.take(bpm, quantiles[i]!)).toBeLessThan(1e-9));
		}
		check.settle();
	});

	it('is unknown under five sessions with a judged rest', () => {
		expect(usualOf(five.slice(1))).toBeUndefined();
		expect(usualOf([...five.slice(1), []])).toBeUndefined();
	});
});
