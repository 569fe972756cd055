import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { availabilityBand, availabilityOf, daysUnderFloor } from '$lib/physiology/availability';
import { budgetOf, netSessionKcal, type DailyActivity } from '$lib/physiology/energy-budget';
import { deurenbergFatPercent, fatFreeMassOf } from '$lib/physiology/fat-free-mass';
import {
	deepestDeficit,
	isAdultHere,
	judgeGoal,
	kcalPerKg,
	medianWeight,
	type WeightFacts
} from '$lib/physiology/weight';
import { youthExpenditureKcal, youthNeedOf } from '$lib/physiology/youth-energy';

const none = { low: 0, value: 0, high: 0 };
const man = { sex: 'male', heightCm: 180, ageYears: 30, bodyFatPercent: 20, bodyFatAgeDays: 0 } as const;
const anyAthlete = fc.record({
	sex: fc.constantFrom('male' as const, 'female' as const),
	heightCm: fc.integer({ min: 145, max: 205 }),
	ageYears: fc.integer({ min: 19, max: 80 }),
	bodyFatPercent: fc.option(fc.integer({ min: 4, max: 45 }), { nil: undefined }),
	bodyFatAgeDays: fc.constant(0)
});
const anyActivity = fc.constantFrom<DailyActivity>('sitting', 'on your feet', 'heavy work');
const anyExercise = fc
	.tuple(fc.nat(900), fc.nat(400), fc.nat(400))
	.map(([low, up, more]) => ({ low, value: low + up, high: low + up + more }));

describe('published values', () => {
	it('Dietary Reference Intakes for Energy 2023, table 5-8: boys 2099, girls 1873 kcal', () => {
		expect(youthExpenditureKcal('male', 8.7, 134, 37.1, 'active')).toBeCloseTo(2099, -0.5);
		// Table 5-8 prints means rounded to a tenth; the figure is met to within 2 kcal.
		expect(Math.abs(youthExpenditureKcal('female', 9.6, 135, 37.6, 'active') - 1873)).toBeLessThan(2);
	});
	it('Deurenberg 1991, by hand: man, BMI 25, 30 years: 30 + 6.9 - 10.8 - 5.4', () => {
		expect(deurenbergFatPercent('male', 25, 30)).toBeCloseTo(20.7, 10);
		expect(deurenbergFatPercent('female', 22, 30)).toBeCloseTo(27.9, 10);
	});
	it('Mifflin 1990, as worked in print: a woman of 45 years, 165 pounds and 65 inches', () => {
		// "How to calculate your metabolic rate", from a handbook on metabolism (Wiley): 1396, in figures rounded
		// on the way.
		const budget = budgetOf({ sex: 'female', ageYears: 45, weightKg: 75, heightCm: 165.1 }, 'sitting', []);
		expect(Math.round(budget.value!.resting.value)).toBe(1396);
	});
	it('availability as worked in print: 60 kg with 20 % fat, 2400 kcal eaten, 500 of exercise: 39.6', () => {
		// Thomas, Erdman, Burke, Med Sci Sports Exerc 2016;48:543-568 (from memory).
		const { value: lean } = fatFreeMassOf({ weightKg: 60, ageYears: 25, bodyFatPercent: 20 }).value!;
		expect(lean).toBeCloseTo(48, 10);
		const exactly = (value: number) => ({ low: value, value, high: value });
		expect(availabilityOf(2400, exactly(500), exactly(lean))!.value).toBeCloseTo(39.6, 1);
	});
	it('Wishnofsky 1958: 3500 kcal to the pound are about 7700 to the kilogram', () => {
		expect(Math.abs(kcalPerKg - 3500 / 0.45359237)).toBeLessThan(20);
	});
	it('Mifflin 1990 times 1.4: 1730 gives 2422', () => {
		expect(
			budgetOf({ ...man, bodyFatPercent: undefined, weightKg: 75 }, 'sitting', []).value?.total.value
		).toBeCloseTo(2422, 8);
	});
	it('ten Haaf & Weijs 2014 times 1.4 where body fat was measured: 60 kg without fat give 1850.524', () => {
		expect(
			budgetOf({ ...man, bodyFatPercent: 20, weightKg: 75 }, 'sitting', []).value?.resting.value
		).toBeCloseTo(1850.524, 8);
	});
	it('availability by its definition (Loucks & Thuma 2003): (2400 - 700) / 50 = 34', () => {
		const exactly = (value: number) => ({ low: value, value, high: value });
		expect(availabilityOf(2400, exactly(700), exactly(50))?.value).toBe(34);
	});
});

describe('fat-free mass', () => {
	const reasonFor = (changes: Partial<Parameters<typeof fatFreeMassOf>[0]>) =>
		fatFreeMassOf({ sex: 'male', heightCm: 180, weightKg: 80, ageYears: 30, ...changes }).reason;

	it('is unknown, with the reason, outside the people of the estimate (Deurenberg 1991: 7 to 83 years, of which 16 and over the adults, BMI 13.9 to 40.9)', () => {
		for (const ageYears of [16, 83]) expect(reasonFor({ ageYears })).toBeUndefined();
		expect(reasonFor({ ageYears: 15 })).toContain('16 to 83 years, and 15');
		expect(reasonFor({ ageYears: 84 })).toContain('16 to 83 years, and 84');
		// 180 cm: 13.9 is 45.0 kg, 40.9 is 132.5 kg.
		for (const weightKg of [45.1, 132.4]) expect(reasonFor({ weightKg })).toBeUndefined();
		expect(reasonFor({ weightKg: 44.9 })).toContain('13.9 lies outside');
		expect(reasonFor({ weightKg: 133 })).toContain('41.0 lies outside');
	});
	it('is known at any age where body fat was measured', () => {
		expect(fatFreeMassOf({ weightKg: 80, ageYears: 88, bodyFatPercent: 25 }).value?.value).toBeCloseTo(
			60,
			10
		);
	});
	it('carries a plan where it was measured in the last eight weeks alone, and no estimate does', () => {
		const kindOf = (changes: Partial<WeightFacts>) => {
			const plan = judgeGoal({ ...man, ...changes }, 84, 81, 56, 'on your feet', none);
			return [plan.kind, 'reason' in plan && plan.reason];
		};
		expect(kindOf({ bodyFatAgeDays: 56 })).toEqual(['reasonable', false]);
		expect(kindOf({ bodyFatAgeDays: 57 })).toEqual(['none', expect.stringContaining('Measure it again')]);
		for (const unmeasured of [{ bodyFatPercent: undefined }, { bodyFatAgeDays: undefined }])
			expect(kindOf(unmeasured)).toEqual(['none', expect.stringContaining('measured body fat')]);
	});
});

describe('ranges', () => {
	it('contain their figure', () => {
		fc.assert(
			fc.property(
				anyAthlete,
				fc.integer({ min: 40, max: 140 }),
				anyActivity,
				anyExercise,
				(a, kg, act, ex) => {
					const budget = budgetOf({ ...a, weightKg: kg }, act, [ex]).value!;
					// Unknown for those whom the estimate of body fat was not made on.
					const ffm = fatFreeMassOf({ ...a, weightKg: kg }).value;
					const all = [
						...[budget.resting, budget.ordinary, budget.total],
						netSessionKcal(ex, 70, act),
						...(ffm ? [ffm, availabilityOf(2000, ex, ffm)!] : [])
					];
					for (const { low, value, high } of all) {
						expect(low).toBeLessThanOrEqual(value);
						expect(value).toBeLessThanOrEqual(high);
					}
				}
			)
		);
	});
	it('of the young hold too', () => {
		const { low, value, high } = youthNeedOf('female', 15, 162, 52)!;
		expect(low < value && value < high).toBe(true);
		expect(youthNeedOf('female', 19, 162, 52)).toBeUndefined();
	});
});

describe('the guard', () => {
	it('never plans availability under 35, or intake under resting, for anybody in any week', () => {
		fc.assert(
			fc.property(
				anyAthlete,
				fc.integer({ min: 40, max: 140 }),
				fc.double({ min: 0.5, max: 20, noNaN: true }),
				fc.integer({ min: 1, max: 400 }),
				anyActivity,
				anyExercise,
				(a, kg, loss, days, activity, exercise) => {
					const plan = judgeGoal(a, kg, kg - loss, days, activity, exercise);
					expect(plan.kind).toBeDefined();
					if (plan.kind !== 'reasonable') return;
					const eaten = plan.intakeKcal + exercise.value;
					for (let week = 0; week <= days / 7; week++) {
						const kgThen = kg - week * plan.neededKgPerWeek;
						const ffm = fatFreeMassOf({ ...a, weightKg: kg }).value!;
						const resting = budgetOf({ ...a, weightKg: kgThen }, activity, []).value!.resting;
						expect(availabilityOf(eaten, exercise, ffm)!.low).toBeGreaterThanOrEqual(35 - 1e-9);
						expect(eaten).toBeGreaterThanOrEqual(resting.high - 1e-9);
						expect(plan.neededKgPerWeek / kgThen).toBeLessThanOrEqual(0.0101);
					}
				}
			),
			{ numRuns: 500 }
		);
	});
	it('lets an adult lose 3 kg in eight weeks, and refuses it in two with a later day', () => {
		expect(judgeGoal(man, 84, 81, 56, 'on your feet', none)).toMatchObject({
			kind: 'reasonable',
			neededKgPerWeek: 0.375
		});
		const refused = judgeGoal(man, 84, 81, 14, 'on your feet', none);
		if (refused.kind !== 'refused') throw new Error('A goal of 1.5 kg a week was accepted.');
		expect(judgeGoal(man, 84, 81, refused.earliestDays!, 'on your feet', none).kind).toBe('reasonable');
		expect(judgeGoal(man, 84, 81, refused.earliestDays! - 1, 'on your feet', none).kind).toBe('refused');
	});
	it('plans nothing for minors, in pregnancy or after an eating disorder', () => {
		for (const bar of [
			{ ageYears: 16 },
			{ ageYears: 18 },
			{ ageYears: undefined },
			{ ageYears: 16, isAdult: true },
			{ pregnant: true },
			{ eatingDisorderHistory: true },
			{ hidesFuel: true }
		])
			expect(judgeGoal({ ...man, ...bar }, 84, 83, 300, 'on your feet', none).kind).toBe('refused');
		expect(isAdultHere({ ageYears: 18, isAdult: true })).toBe(true);
	});
	it('holds the floors of weight and fat', () => {
		expect(judgeGoal(man, 62, 59, 400, 'heavy work', none)).toMatchObject({
			reason: expect.stringContaining('18.5')
		});
		expect(judgeGoal({ ...man, bodyFatPercent: 9 }, 75, 72, 400, 'heavy work', none)).toMatchObject({
			reason: expect.stringContaining('5 %')
		});
		expect(deepestDeficit({ ...man, ageYears: undefined }, 80, 'sitting', none)).toBeUndefined();
	});
});

describe('the bands', () => {
	it('lie at 30 and 45 (Loucks & Thuma 2003), with the floor of 35 between', () => {
		expect([29.9, 30, 35, 45].map(availabilityBand)).toEqual([
			'low',
			'under the floor',
			'reduced',
			'in balance'
		]);
	});
});

describe('the log', () => {
	it('takes the median of seven days', () => {
		const entries = [80, 81, 90, 79].map((kg, day) => ({ day, kg }));
		expect(medianWeight(entries, 3)).toBe(80.5);
		expect(medianWeight(entries, 20)).toBeUndefined();
	});
	it('leaves a day without intake unknown', () => {
		expect(availabilityOf(undefined, none, { low: 50, value: 50, high: 50 })).toBeUndefined();
		expect(daysUnderFloor([44, 33, undefined, 31])).toBe(2);
		expect(daysUnderFloor([undefined, undefined])).toBe(0);
	});
});
