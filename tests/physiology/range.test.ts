import { describe, expect, it } from 'vitest';
import { atHighEnd, sumOf } from '$lib/physiology/range';

describe('ranges', () => {
	it('add up end by end, and none of them come to nothing', () => {
		const ranges = [
			{ low: 1, value: 2, high: 4 },
			{ low: 10, value: 20, high: 40 },
			{ low: 100, value: 200, high: 400 }
		];

		expect(sumOf(ranges)).toEqual({ low: 111, value: 222, high: 444 });
		expect(sumOf([])).toEqual({ low: 0, value: 0, high: 0 });
	});

	it('are taken at their high end where eating too little does more harm', () => {
		expect(atHighEnd({ low: 295, value: 402, high: 509 })).toEqual({ low: 295, value: 509, high: 509 });
	});
});
