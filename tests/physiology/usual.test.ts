import { quantile } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { usualOf } from '$lib/physiology/usual';

describe("the athlete's own usual", () => {
	const five = [[40, 42], [38], [45, 41], [39], [44]];

	it('is median and the middle four of five, from five sessions on', () => {
		// Type 7 (numpy's default): sorted 38 39 40 41 42 44 45; places 0.6, 3 and 5.4 of six.
		expect(usualOf(five)).toMatchObject({ sessionCount: 5, restCount: 7, middle: 41 });
		expect(usualOf(five)!.low).toBeCloseTo(38.6, 10);
		expect(usualOf(five)!.high).toBeCloseTo(44.4, 10);
		expect(usualOf(five)!.middle).toBe(quantile(five.flat(), 0.5));
	});

	it('is unknown under five sessions with a judged rest', () => {
		expect(usualOf(five.slice(1))).toBeUndefined();
		expect(usualOf([...five.slice(1), []])).toBeUndefined();
	});
});
