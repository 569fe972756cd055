import { describe, expect, it } from 'vitest';
import { energyCautions } from '$lib/physiology/energy-cautions';

// Limits of the regression: 18 to 45 years, 47 to 120 kg, 57 to 90 % of maximum, VO2max 27 to 81 (Keytel et al.,
// J Sports Sci 2005;23:289-297).
const inside = {
	activity: 'running',
	weightKg: 75,
	ageYears: 30,
	measuredMaxBpm: 200,
	coverage: 1,
	restingMethod: 'Mifflin-St Jeor'
} as const;

const at = (bpm: number, count = 100) => new Float64Array(count).fill(bpm);
const saysOf = (overrides: object, seconds = at(150)) => energyCautions(seconds, { ...inside, ...overrides });

describe('energyCautions', () => {
	it('says nothing inside the regression’s range, edges included', () => {
		expect(saysOf({})).toEqual([]);
		expect(saysOf({ ageYears: 18, weightKg: 47, vo2Max: 27 })).toEqual([]);
		expect(saysOf({ ageYears: 45, weightKg: 120, vo2Max: 81, coverage: 0.95 })).toEqual([]);
		expect([...saysOf({}, at(114)), ...saysOf({}, at(180))]).toEqual([]);
	});

	it.each([
		[{ ageYears: 17 }, /18 to 45 years; 17 lies outside/],
		[{ ageYears: 46 }, /18 to 45 years; 46 lies outside/],
		[{ weightKg: 46.5 }, /47 to 120 kg; 46.5 lies outside/],
		[{ weightKg: 121 }, /47 to 120 kg; 121 lies outside/],
		[{ vo2Max: 26 }, /VO2max of 27 to 81/],
		[{ coverage: 0.949 }, /cover only 94 % of the time/],
		[{ restingMethod: 'one MET' }, /1 kcal a kilogram an hour/],
		[{ activity: 'bag' }, /reads high for the bag: the range is 0.65 to 1 times the regression/],
		[{ activity: 'shadow boxing' }, /reads high for shadow boxing/],
		[{ activity: 'pads' }, /needs no oxygen, .*: the range is 0.8 to 1.3 times the regression/],
		[{ activity: 'sparring' }, /needs no oxygen/],
		[{ activity: 'other' }, /this activity is unknown/]
	])('says one thing of %o', (overrides, caution) => {
		expect(saysOf(overrides)).toEqual([expect.stringMatching(caution)]);
	});

	it('says how much of the effort lies outside, of readings only', () => {
		const grid = Float64Array.of(...at(113, 10), ...at(150, 60), ...at(181, 30), ...at(NaN, 100));
		expect(saysOf({}, grid)).toEqual([
			'10 % of the readings are under 57 % of the measured maximum, where the regression was not made.',
			'30 % of the readings are over 90 % of the measured maximum, where the regression was not made.'
		]);
	});

	it('goes by the age where no maximum was measured', () => {
		// 208 - 0.7 x 30 = 187 (Tanaka et al., J Am Coll Cardiol 2001;37:153-156); 90 % are 168.3.
		expect(saysOf({ measuredMaxBpm: undefined }, at(168))).toEqual([]);
		expect(saysOf({ measuredMaxBpm: 0 }, at(169))).toEqual([
			'100 % of the readings are over 90 % of the maximum estimated from age, where the regression was not made.'
		]);
	});
});
