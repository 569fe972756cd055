import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { WayStep } from '$lib/physiology/way-steps';
import { ceilingOf } from '$lib/review/step-ceiling';

const today = '2026-03-10';
const hurt = (step: WayStep, card: Partial<Athlete> = {}): Athlete => ({
	...{ id: 'a', name: 'Ada', measuredMaxBpm: 190 },
	blows: [{ day: '2026-03-01', step, since: '2026-03-02T12:00:00.000Z' }],
	...card
});

// Steps and shares: consensus of Amsterdam 2022, Patricios et al., Br J Sports Med 2023;57:695-711; both shares from memory.
describe('the rate not to go over on the way back', () => {
	it('is 55 % of a measured maximum in step 2A and 70 % in 2B, rounded down', () => {
		expect(ceilingOf(hurt('2A'), today)).toBe(104);
		expect(ceilingOf(hurt('2B'), today)).toBe(133);
	});
	it('is none in the other steps, and for whoever is not held back', () => {
		for (const step of ['1', '3', '4'] as const) expect(ceilingOf(hurt(step), today)).toBeUndefined();
		expect(ceilingOf({ id: 'b', name: 'Bao', measuredMaxBpm: 190 }, today)).toBeUndefined();
	});
	it('is none where medicine slows the heart or nothing tells a maximum, and lower where age alone does', () => {
		expect(ceilingOf(hurt('2A', { slowingMedicine: true }), today)).toBeUndefined();
		expect(ceilingOf(hurt('2A', { measuredMaxBpm: undefined }), today)).toBeUndefined();
		// 206 - 0.88 x 30 = 179.6, less its spread of 12 (Gulati et al. 2010, the lowest of the formulas): 55 % of 167.6.
		expect(ceilingOf(hurt('2A', { measuredMaxBpm: undefined, birthYear: 1996 }), today)).toBe(92);
	});
});
