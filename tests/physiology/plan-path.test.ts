import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { availabilityOf } from '$lib/physiology/availability';
import { budgetOf, type DailyActivity } from '$lib/physiology/energy-budget';
import { fatFreeMassOf } from '$lib/physiology/fat-free-mass';
import { planPathOf } from '$lib/physiology/plan-path';
import { judgeGoal, safeKgPerWeek } from '$lib/physiology/weight';

const none = { low: 0, value: 0, high: 0 };
const man = { sex: 'male', heightCm: 180, ageYears: 30, bodyFatPercent: 20, bodyFatAgeDays: 0 } as const;

describe('an adult from 84 to 81 kg in eight weeks', () => {
	const weeks = planPathOf(man, 84, 81, 56, 'on your feet', none)!;

	it('has eight weeks on the straight line to the goal', () => {
		expect(weeks.map(({ toDay }) => toDay)).toEqual([7, 14, 21, 28, 35, 42, 49, 56]);
		expect(weeks[3]!.kg.value).toBeCloseTo(82.5, 10);
		expect(weeks[7]!.kg.value).toBeCloseTo(81, 10);
		expect(safeKgPerWeek(81)).toBeCloseTo(0.81, 10);
	});
	// ten Haaf & Weijs 2014 from the measured body fat: 22.771 x 84 x 0.8 + 484.264.
	const restingKcal = 2014.4752;

	it('eats by hand: 2014 kcal of rest x 1.6, less 3 kg x 7700 / 56', () => {
		expect(weeks[0]!.intakeKcal.value).toBeCloseTo(restingKcal * 1.6 - 412.5, 8);
		// Least: 35 x 84 x (1 - 0.18), above 1.1 x 2014. High: 2014 x 1.1 x 1.7 - 412.5.
		expect(weeks[0]!.intakeKcal.low).toBeCloseTo(2410.8, 8);
		expect(weeks[0]!.intakeKcal.high).toBeCloseTo(restingKcal * 1.1 * 1.7 - 412.5, 8);
		// Seven weeks on, 81.375 kg: 2.1 kg of it without fat, times 22.771 less at rest, times 1.6.
		expect(weeks[7]!.intakeKcal.value).toBeCloseTo((restingKcal - 2.1 * 22.771) * 1.6 - 412.5, 8);
	});
	it('may end the first week where the ends of the day lead, by hand', () => {
		// The rest times 1.6 less 0.9 x 1.45 of it, and 1.1 x 1.7 of it less 1.6, over seven days.
		const perWeek = (factor: number) => (restingKcal * factor * 7) / 7700;
		expect(weeks[0]!.kg.high - weeks[0]!.kg.value).toBeCloseTo(perWeek(1.6 - 0.9 * 1.45), 8);
		expect(weeks[0]!.kg.value - weeks[0]!.kg.low).toBeCloseTo(perWeek(1.1 * 1.7 - 1.6), 8);
	});
	it('ends on the day of the weigh-in, in a short week where need be', () => {
		expect(planPathOf(man, 84, 81, 60, 'on your feet', none)!.at(-1)).toMatchObject({
			fromDay: 56,
			toDay: 60
		});
	});
});

it('is none where the goal is refused or somebody is barred', () => {
	expect(planPathOf(man, 84, 81, 14, 'on your feet', none)).toBeUndefined();
	expect(planPathOf({ ...man, ageYears: 16 }, 84, 83, 300, 'on your feet', none)).toBeUndefined();
	expect(planPathOf({ ...man, pregnant: true }, 84, 83, 300, 'on your feet', none)).toBeUndefined();
	expect(planPathOf({ ...man, eatingDisorderHistory: true }, 84, 83, 300, 'sitting', none)).toBeUndefined();
	expect(planPathOf(man, 84, 81, 0, 'on your feet', none)).toBeUndefined();
});

describe('for any athlete and any week', () => {
	const anyPlan = fc.record({
		facts: fc.record({
			sex: fc.constantFrom('male' as const, 'female' as const),
			heightCm: fc.integer({ min: 145, max: 205 }),
			ageYears: fc.integer({ min: 19, max: 90 }),
			bodyFatPercent: fc.option(fc.integer({ min: 4, max: 45 }), { nil: undefined }),
			bodyFatAgeDays: fc.constant(0)
		}),
		kg: fc.integer({ min: 40, max: 140 }),
		loss: fc.double({ min: 0.3, max: 12, noNaN: true }),
		days: fc.integer({ min: 1, max: 400 }),
		activity: fc.constantFrom<DailyActivity>('sitting', 'on your feet', 'heavy work'),
		exercise: fc
			.tuple(fc.nat(900), fc.nat(400), fc.nat(400))
			.map(([low, up, more]) => ({ low, value: low + up, high: low + up + more }))
	});
	let planned = 0;

	it('plans no availability under 35, no intake under resting and no loss over 1 % a week, and ranges hold', () => {
		fc.assert(
			fc.property(anyPlan, ({ facts, kg, loss, days, activity, exercise }) => {
				const weeks = planPathOf(facts, kg, kg - loss, days, activity, exercise);
				const isPlan = judgeGoal(facts, kg, kg - loss, days, activity, exercise).kind === 'reasonable';
				expect(weeks !== undefined).toBe(isPlan);
				if (!weeks) return;
				planned++;
				const lean = fatFreeMassOf({ ...facts, weightKg: kg }).value!;
				let before = kg;
				for (const { fromDay, toDay, kg: weight, intakeKcal } of weeks) {
					// The lowest intake of the range on a day of the hardest training, eaten back at its upper end.
					const availability = availabilityOf(intakeKcal.low + exercise.high, exercise, lean)!.low;
					const { resting } = budgetOf({ ...facts, weightKg: before }, activity, []).value!;
					const share = ((before - weight.value) * 7) / (toDay - fromDay) / before;
					const isSafe =
						availability >= 35 - 1e-6 && intakeKcal.low >= resting.high - 1e-6 && share <= 0.01 + 1e-9;
					const areRanges = [intakeKcal, weight].every(
						({ low, value, high }) => low <= value && value <= high
					);
					// One expectation a week, made only where it fails: there are some hundred thousand of them.
					if (!isSafe || !areRanges)
						expect({ fromDay, availability, share, intakeKcal, weight, resting }).toBe('safe');
					before = weight.value;
				}
				expect(weeks.at(-1)!.toDay).toBe(days);
				expect(before).toBeCloseTo(kg - loss, 9);
			}),
			{ numRuns: 1000 }
		);
		// The property says something only where plans come about.
		expect(planned).toBeGreaterThan(10);
	});
});
