import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import {
	bodyOf,
	mifflinKcalPerDay,
	restingExpenditureOf,
	schofieldKcalPerDay,
	tenHaafKcalPerDay,
	type RestingFacts
} from '$lib/physiology/resting-expenditure';
import { numbersIn } from './builders';

const man = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;

describe('the equations of resting expenditure', () => {
	it('Mifflin-St Jeor', () => {
		// Mifflin et al., Am J Clin Nutr 1990;51:241-7, computed.
		expect(mifflinKcalPerDay('male', 75, 180, 30)).toBe(1730);
		expect(mifflinKcalPerDay('female', 60, 165, 30)).toBe(1320.25);
	});

	it('Mifflin-St Jeor stays beside the unrounded form printed in the same abstract', () => {
		// 9.99 kg + 6.25 cm - 4.92 age + 166 (men) - 161: the authors call the rounded form as good.
		const unrounded = (isMan: boolean, kg: number, cm: number, age: number) =>
			9.99 * kg + 6.25 * cm - 4.92 * age + (isMan ? 166 : 0) - 161;
		expect(Math.abs(mifflinKcalPerDay('male', 75, 180, 30)! - unrounded(true, 75, 180, 30))).toBeLessThan(5);
		expect(Math.abs(mifflinKcalPerDay('female', 60, 165, 30)! - unrounded(false, 60, 165, 30))).toBeLessThan(
			5
		);
	});

	it('ten Haaf & Weijs, of athletes', () => {
		// ten Haaf & Weijs, PLoS ONE 2014;9:e108460: 22.771 FFM + 484.264, by hand for 60 kg: 1366.26 + 484.264.
		expect(tenHaafKcalPerDay(60)).toBeCloseTo(1850.524, 10);
		// Cunningham, Am J Clin Nutr 1980;33:2372-4: 500 + 22 FFM.
		for (const kg of [45, 60, 80])
			expect(Math.abs(tenHaafKcalPerDay(kg)! - (500 + 22 * kg))).toBeLessThan(50);
	});

	it('Schofield, in kilocalories as in the kilojoules it is also printed in', () => {
		// Schofield 1985, 10 to 18 years: boys 74 kg + 2754 kJ, girls 56 kg + 2898 kJ a day, rounded in print.
		for (const kg of [30, 50, 70]) {
			expect(Math.abs(schofieldKcalPerDay('male', kg)! * 4.184 - (74 * kg + 2754))).toBeLessThan(1);
			expect(Math.abs(schofieldKcalPerDay('female', kg)! * 4.184 - (56 * kg + 2898))).toBeLessThan(1);
		}
	});

	it('refuse what lies outside their range', () => {
		expect(mifflinKcalPerDay('male', 75, 180, 18)).toBeUndefined();
		expect(mifflinKcalPerDay('male', 75, 18, 30)).toBeUndefined();
		expect(mifflinKcalPerDay('male', 19, 180, 30)).toBeUndefined();
		expect(tenHaafKcalPerDay(NaN)).toBeUndefined();
		expect(tenHaafKcalPerDay(14)).toBeUndefined();
		expect(schofieldKcalPerDay('female', 251)).toBeUndefined();
	});
});

describe('restingExpenditureOf', () => {
	const methodOf = (facts: RestingFacts) => restingExpenditureOf(facts).value?.method;

	it('takes Mifflin-St Jeor, in kilocalories and kilojoules', () => {
		expect(restingExpenditureOf(man).value).toEqual({
			kcalPerDay: 1730,
			kJPerDay: 1730 * 4.184,
			method: 'Mifflin-St Jeor'
		});
	});

	it('takes the equation of athletes where body fat was measured, whatever else is known', () => {
		// 75 kg less 12 % are 66 kg without fat: 22.771 x 66 + 484.264.
		const { value } = restingExpenditureOf({ ...man, bodyFatPercent: 12 });
		expect(value?.kcalPerDay).toBeCloseTo(1987.15, 8);
		expect(value?.method).toBe('ten Haaf');
		expect(methodOf({ weightKg: 75, ageYears: 30, bodyFatPercent: 12 })).toBe('ten Haaf');
		expect(methodOf({ ...man, bodyFatPercent: 80 })).toBe('Mifflin-St Jeor');
	});

	it('falls back to one MET', () => {
		expect(methodOf({ ...man, heightCm: undefined })).toBe('one MET');
		// 1 MET = 1 kcal/kg/h: 75 kg need 1800 kcal in 24 hours.
		expect(restingExpenditureOf({ weightKg: 75, ageYears: 30 }).value?.kcalPerDay).toBe(1800);
	});

	it('takes the equation made for the young up to 18 years', () => {
		expect(methodOf({ ...man, ageYears: 18, bodyFatPercent: 12 })).toBe('Schofield');
		expect(methodOf({ ...man, ageYears: 19 })).toBe('Mifflin-St Jeor');
		expect(restingExpenditureOf({ weightKg: 50, ageYears: 15 }).reason).toMatch(/sex is not given/);
	});

	it.each([
		[{ ageYears: 30 }, /body mass is not given/],
		[{ weightKg: 750, ageYears: 30 }, /750 kg is outside 20 to 250 kg/],
		[{ weightKg: NaN, ageYears: 30 }, /outside 20 to 250 kg/],
		[{ weightKg: 75 }, /age is not given/],
		[{ weightKg: 75, ageYears: 9 }, /9 years/]
	])('says what is missing or impossible: %o', (facts, reason) => {
		expect(restingExpenditureOf(facts).reason).toMatch(reason);
		expect(bodyOf(facts).reason).toMatch(reason);
	});

	it('answers a value or a reason, never NaN, and more for a heavier body', () => {
		const maybe = (min: number, max: number) =>
			fc.option(fc.oneof(fc.integer({ min, max }), fc.constant(NaN)), { nil: undefined });
		const anyFacts = fc.record({
			sex: fc.constantFrom('female' as const, 'male' as const, undefined),
			weightKg: maybe(10, 260),
			heightCm: maybe(90, 240),
			ageYears: maybe(0, 110),
			bodyFatPercent: maybe(0, 90)
		});
		fc.assert(
			fc.property(anyFacts, (facts) => {
				const answer = restingExpenditureOf(facts);
				expect(answer.value === undefined).toBe(answer.reason !== undefined);
				expect(numbersIn(answer).every((each) => Number.isFinite(each) && each > 0)).toBe(true);
				const heavier = restingExpenditureOf({ ...facts, weightKg: (facts.weightKg ?? 0) + 1 }).value;
				if (!answer.value || heavier?.method !== answer.value.method) return;
				expect(heavier.kcalPerDay).toBeGreaterThanOrEqual(answer.value.kcalPerDay);
			})
		);
	});
});
