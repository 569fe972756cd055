import { describe, expect, it } from 'vitest';
import { stepCeiling } from '$lib/physiology/way-back';
import { earlierStep, reaches, waySteps } from '$lib/physiology/way-steps';

// Shares of the consensus of Amsterdam 2022 (Patricios et al., Br J Sports Med 2023;57:695-711): light to about 55 %,
// moderate to about 70 % of maximum, both from memory; no other step has a share.
describe('the share of maximum of a step', () => {
	it.each([
		['2A', 180, 99],
		['2A', 200, 110],
		['2A', 187, 102],
		['2B', 190, 133],
		['2B', 187, 130]
	] as const)('of %s is taken of a measured maximum of %d: %d', (step, measuredMaxBpm, bpm) => {
		expect(stepCeiling(step, { measuredMaxBpm, ageYears: 20 })).toEqual({ value: bpm });
	});

	it('is taken of the low end of the estimate where none is measured', () => {
		// At 30: 208 - 21 - 10 = 177, 190 - 12 = 178, 206.9 - 20.1 - 11 = 175.8 (errors: methods); 70 % of the lowest.
		expect(stepCeiling('2B', { ageYears: 30, sex: 'male' })).toEqual({ value: Math.floor(0.7 * 175.8) });
		// The formula for women is the lowest: 206 - 26.4 - 12 = 167.6.
		expect(stepCeiling('2B', { ageYears: 30, sex: 'female' })).toEqual({ value: Math.floor(0.7 * 167.6) });
	});

	it('is unknown, with the reason, without an age, and under medicine that slows the heart', () => {
		expect(stepCeiling('2A', {})?.reason).toContain('year of birth');
		expect(stepCeiling('2A', { measuredMaxBpm: 190, slowingMedicine: true })?.reason).toContain('Medicine');
	});

	it('is given for no other step', () => {
		for (const step of ['1', '3', '4', '5', '6'] as const)
			expect(stepCeiling(step, { measuredMaxBpm: 190 })).toBeUndefined();
	});
});

describe('the order of the steps', () => {
	it('is that of the consensus', () => {
		for (const [i, one] of waySteps.entries())
			for (const [j, other] of waySteps.entries())
				expect([earlierStep(one, other), reaches(one, other)]).toEqual([waySteps[Math.min(i, j)], i >= j]);
	});
});
