import { describe, expect, it } from 'vitest';
import { shareOnBar } from '$lib/charts/rate-scale';

describe('a rate on a bar', () => {
	it('puts the threshold of everybody at the same place, by hand (1 - 0.5) / (1.15 - 0.5)', () => {
		for (const thresholdBpm of [120, 165, 190])
			expect(shareOnBar(thresholdBpm, thresholdBpm)).toBeCloseTo(0.5 / 0.65, 12);
	});

	it('never leaves the bar, and needs no threshold', () => {
		expect([shareOnBar(30, 160), shareOnBar(240, 160)]).toEqual([0, 1]);
		expect([shareOnBar(40, undefined), shareOnBar(130, undefined), shareOnBar(230, undefined)]).toEqual([
			0, 0.5, 1
		]);
	});
});
