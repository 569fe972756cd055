import { describe, expect, it } from 'vitest';
import {
	deepestDeficit,
	isAdultHere,
	judgeGoal,
	medianWeight,
	noFatReason,
	noLossReason,
	safeKgPerWeek,
	type WeightFacts
} from '$lib/physiology/weight';

const none = { low: 0, value: 0, high: 0 };
const man: WeightFacts = { sex: 'male', heightCm: 180, ageYears: 30, bodyFatPercent: 20, bodyFatAgeDays: 0 };

// 84 kg with 20 % fat: 67.2 kg without it, 68.88 at the most. At rest 22.771 x 67.2 + 484.264 (ten Haaf & Weijs 2014).
const restingKcal = 2014.4752;
/** 35 kcal for each of these kilograms, which is more than 1.1 of the rest. */
const leastKcal = 2410.8;
/** At the goal of 81 kg: 22.771 x 64.8 + 484.264. */
const restingAtGoalKcal = 1959.8248;

describe('a goal of 81 kg for a man of 84', () => {
	it('leaves a deficit down to 35 kcal for each kilogram without fat, and what training costs at most', () => {
		const deficitOf = (exercise: typeof none) => deepestDeficit(man, 84, 'on your feet', exercise)!;

		expect(deficitOf(none).intakeKcal).toBeCloseTo(leastKcal, 8);
		expect(deficitOf(none).deficitKcal).toBeCloseTo(restingKcal * 1.6 - leastKcal, 8);
		const trained = deficitOf({ low: 300, value: 400, high: 500 });
		expect(trained.intakeKcal).toBeCloseTo(leastKcal + 500, 8);
		expect(trained.deficitKcal).toBeCloseTo(restingKcal * 1.6 + 400 - leastKcal - 500, 8);
		expect(deficitOf({ low: 0, value: 0, high: 5000 }).deficitKcal).toBe(0);
	});

	it('never goes under what the body uses at rest, be it a tenth more than reckoned', () => {
		// 84 kg with 50 % fat: 42 kg without it, 43.68 at the most, for which 35 kcal each are 1529 and so less than 1585.
		const { intakeKcal } = deepestDeficit({ ...man, bodyFatPercent: 50 }, 84, 'sitting', none)!;
		expect(intakeKcal).toBeCloseTo(1.1 * (22.771 * 42 + 484.264), 8);
	});

	it('is reasonable in eight weeks: 0.375 kg a week, 412.5 kcal a day', () => {
		for (const exercise of [none, { low: 300, value: 400, high: 500 }]) {
			const plan = judgeGoal(man, 84, 81, 56, 'on your feet', exercise);
			if (plan.kind !== 'reasonable') throw new Error('The goal was not accepted.');
			expect(plan.neededKgPerWeek).toBeCloseTo(0.375, 12);
			expect(plan.deficitKcal).toBeCloseTo(412.5, 9);
			// Sessions are eaten on top.
			expect(plan.intakeKcal).toBeCloseTo(restingKcal * 1.6 - 412.5, 8);
		}
	});

	it('is as fast as the room allows that is left at the goal, and says from which day on', () => {
		const fastest = ((restingAtGoalKcal * 1.6 - leastKcal) * 7) / 7700;
		const refused = judgeGoal(man, 84, 81, 14, 'on your feet', none);
		expect(refused).toMatchObject({
			kind: 'refused',
			neededKgPerWeek: 1.5,
			earliestDays: Math.ceil((3 / fastest) * 7),
			reason: 'That is faster than is safe.'
		});
		for (const days of [0, -7])
			expect(judgeGoal(man, 84, 81, days, 'on your feet', none)).toMatchObject({
				neededKgPerWeek: Infinity,
				earliestDays: Math.ceil((3 / fastest) * 7)
			});
	});

	it('is never faster than 1 % of the goal a week, however much room there is', () => {
		// Heavy work leaves over 1000 kcal a day; 0.81 kg a week are 891.
		expect(safeKgPerWeek(81)).toBeCloseTo(0.81, 12);
		expect(judgeGoal(man, 84, 81, 26, 'heavy work', none).kind).toBe('reasonable');
		expect(judgeGoal(man, 84, 81, 25, 'heavy work', none)).toMatchObject({
			kind: 'refused',
			earliestDays: 26
		});
	});

	it('is refused where training may cost all the room there is', () => {
		expect(judgeGoal(man, 84, 81, 56, 'sitting', { low: 0, value: 0, high: 400 })).toEqual({
			kind: 'refused',
			neededKgPerWeek: 0.375,
			reason: 'There is no room for a deficit without starving. Ask a dietitian; box the present class.'
		});
	});
});

describe('a goal is not judged', () => {
	const reasonOf = (changes: Partial<WeightFacts>, goalKg = 81) => {
		const plan = judgeGoal({ ...man, ...changes }, 84, goalKg, 56, 'on your feet', none);
		return [plan.kind, 'reason' in plan ? plan.reason : undefined];
	};

	it('without sex, height or age', () => {
		const missing = ['none', 'A plan needs sex, height and year of birth: enter them.'];
		expect(reasonOf({ sex: undefined })).toEqual(missing);
		expect(reasonOf({ heightCm: undefined })).toEqual(missing);
		expect(reasonOf({ ageYears: undefined, isAdult: true })).toEqual(missing);
	});

	it('where it is no loss', () => {
		const noLoss = ['none', 'The goal is not under the present weight.'];
		expect(reasonOf({}, 84)).toEqual(noLoss);
		expect(reasonOf({}, 85)).toEqual(noLoss);
		expect(reasonOf({}, 83.9)[0]).toBe('reasonable');
	});

	it('under a body mass index of 18.5, which are 59.94 kg at 1.80 m', () => {
		const at = (goalKg: number) => judgeGoal(man, 62, goalKg, 400, 'heavy work', none);
		expect(at(59.93)).toMatchObject({
			kind: 'refused',
			reason: 'That goal lies under a body mass index of 18.5. Box a heavier class.'
		});
		expect(at(59.95).kind).toBe('reasonable');
	});

	it('where it may leave too little fat, which is 5 % in men and 12 in women', () => {
		// 75 kg with 9 %, of which it may be 7: 69.75 kg without fat are 95 % of 73.42.
		const ofMan = (goalKg: number) =>
			judgeGoal({ ...man, bodyFatPercent: 9 }, 75, goalKg, 400, 'heavy work', none);
		expect(ofMan(73.4)).toMatchObject({
			kind: 'refused',
			reason: 'That goal may leave less than 5 % body fat. Box a heavier class.'
		});
		expect(ofMan(73.45).kind).toBe('reasonable');
		// 65 kg with 17 %, of which it may be 15: 55.25 kg without fat are 88 % of 62.78.
		const woman: WeightFacts = { ...man, sex: 'female', heightCm: 165, bodyFatPercent: 17 };
		const ofWoman = (goalKg: number) => judgeGoal(woman, 65, goalKg, 400, 'heavy work', none);
		expect(ofWoman(62.75)).toMatchObject({
			kind: 'refused',
			reason: 'That goal may leave less than 12 % body fat. Box a heavier class.'
		});
		expect(ofWoman(62.8).kind).toBe('reasonable');
	});
});

describe('nothing that loses weight is planned', () => {
	it('for minors, and for who may be one', () => {
		const isAdult = (ageYears: number | undefined, confirmed?: boolean) =>
			isAdultHere({ ageYears, isAdult: confirmed });
		expect([isAdult(19), isAdult(18), isAdult(17), isAdult(undefined)]).toEqual([true, false, false, false]);
		expect([isAdult(19, false), isAdult(18, true), isAdult(17, true)]).toEqual([true, true, false]);
		expect([isAdult(undefined, true), isAdult(undefined, false), isAdult(18, false)]).toEqual([
			true,
			false,
			false
		]);
		expect(noLossReason({ ageYears: 17, pregnant: true })).toBe(
			'No weight loss is planned for anybody under 18, or whose age is not known. Growing needs energy.'
		);
	});

	it('in pregnancy, with a history of eating disorder, or where nobody wants to see it', () => {
		expect(noLossReason(man)).toBeUndefined();
		expect(noLossReason({ ...man, pregnant: true, hidesFuel: true })).toBe(
			'No weight loss is planned in pregnancy. Ask the midwife or doctor.'
		);
		expect(noLossReason({ ...man, eatingDisorderHistory: true, hidesFuel: true })).toBe(
			'No weight loss is planned with a history of eating disorder. A doctor or dietitian can help.'
		);
		expect(noLossReason({ ...man, hidesFuel: true })).toBe(
			'No weight plan is made here. The class of today’s weight is the class.'
		);
	});

	it('on body fat that nobody measured, or more than eight weeks ago', () => {
		const unmeasured = 'A plan that loses weight needs measured body fat: enter it with its method and day.';
		expect(noFatReason({ bodyFatPercent: 20 })).toBe(unmeasured);
		expect(noFatReason({ bodyFatAgeDays: 3 })).toBe(unmeasured);
		expect(noFatReason({ bodyFatPercent: 20, bodyFatAgeDays: 57 })).toBe(
			'Body fat was measured more than eight weeks ago. Measure it again.'
		);
		expect(noFatReason({ bodyFatPercent: 20, bodyFatAgeDays: 56 })).toBeUndefined();
	});
});

it('takes the median of the seven days that end with one, in any order', () => {
	const entries = [
		{ day: 10, kg: 70 },
		{ day: 3, kg: 90 },
		{ day: 4, kg: 74 },
		{ day: 7, kg: 71 },
		{ day: 11, kg: 50 }
	];

	expect(medianWeight(entries, 10)).toBe(71);
	// Day 4 is out of these seven, day 11 in.
	expect(medianWeight(entries, 11)).toBe(70);
	expect(medianWeight(entries, 9)).toBe(74);
	expect(medianWeight(entries, 2)).toBeUndefined();
	expect(medianWeight([], 2)).toBeUndefined();
});
