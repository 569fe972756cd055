import { availabilityFloor } from './availability';
import { budgetOf, type DailyActivity } from './energy-budget';
import { fatFreeMassOf } from './fat-free-mass';
import type { Range } from './range';

export interface WeightFacts {
	sex?: 'female' | 'male';
	heightCm?: number;
	ageYears?: number;
	bodyFatPercent?: number;
	/** Days since that was measured; absent where it is no measurement, or nobody noted when. */
	bodyFatAgeDays?: number;
	/** "No weight plan (no reason needed)". */
	hidesFuel?: boolean;
	/** "18 or over" was confirmed. */
	isAdult?: boolean;
	pregnant?: boolean;
	eatingDisorderHistory?: boolean;
}

export type WeightPlan =
	| { kind: 'none'; reason: string }
	| { kind: 'refused'; reason: string; neededKgPerWeek?: number; earliestDays?: number }
	| {
			kind: 'reasonable';
			neededKgPerWeek: number;
			/** Planned intake before sessions, kcal a day, without the day's training. */
			intakeKcal: number;
			deficitKcal: number;
	  };

/** kcal in a kilogram of body mass (Wishnofsky, Am J Clin Nutr 1958;6:542-6): a planning number. */
export const kcalPerKg = 7700;
const lowestBmi = 18.5;
const leastFatPercent = { male: 5, female: 12 };
const fastestShare = 0.01;
/** Own rule: an older measurement of body fat carries no plan. */
export const oldestFatDays = 56;

/**
 * Counts as adult where this year less the birth year is 19 or more, or "18 or over" is confirmed for somebody
 * whose years leave room for it (18, or unknown). An unknown age is a minor's.
 *
 * @example isAdultHere({ ageYears: 18 }) // false
 */
export function isAdultHere({ ageYears, isAdult }: Pick<WeightFacts, 'ageYears' | 'isAdult'>): boolean {
	if (ageYears === undefined) return isAdult === true;
	return ageYears >= 19 || (ageYears === 18 && isAdult === true);
}

/** The fastest loss of any plan, kg a week: 1 % of the goal weight (own rule; Garthe et al. 2011 aimed at 0.7 %). */
export function safeKgPerWeek(goalKg: number): number {
	return fastestShare * goalKg;
}

/** Why nothing that loses weight may be planned for this person, or undefined. */
export function noLossReason(facts: WeightFacts): string | undefined {
	if (!isAdultHere(facts))
		return 'No weight loss is planned for anybody under 18, or whose age is not known. Growing needs energy.';
	if (facts.pregnant) return 'No weight loss is planned in pregnancy. Ask the midwife or doctor.';
	if (facts.eatingDisorderHistory)
		return 'No weight loss is planned with a history of eating disorder. A doctor or dietitian can help.';
	if (facts.hidesFuel) return 'No weight plan is made here. The class of today’s weight is the class.';
	return undefined;
}

/**
 * Why a plan that loses weight cannot stand on what is known of body fat, or undefined. An estimate from height and weight
 * reads 6 points high in lean boxers (El-Ashker et al., Sports 2018;6:119 against Deurenberg 1991).
 */
export function noFatReason({ bodyFatPercent, bodyFatAgeDays }: WeightFacts): string | undefined {
	if (bodyFatPercent === undefined || bodyFatAgeDays === undefined)
		return 'A plan that loses weight needs measured body fat: enter it with its method and day.';
	return bodyFatAgeDays > oldestFatDays
		? 'Body fat was measured more than eight weeks ago. Measure it again.'
		: undefined;
}

/**
 * The most a day's intake may fall short by, and the intake that leaves, kcal. Intake is the largest of 35
 * kcal/kg of fat-free mass and resting expenditure, at the unfavourable ends, plus the upper end of exercise.
 *
 * @param exercise mean net session cost a day, kcal
 * @returns undefined where the facts do not suffice
 */
export function deepestDeficit(
	facts: WeightFacts,
	weightKg: number,
	activity: DailyActivity,
	exercise: Range
): { intakeKcal: number; deficitKcal: number } | undefined {
	const { ageYears } = facts;
	if (ageYears === undefined) return undefined;
	const ffm = fatFreeMassOf({ ...facts, ageYears, weightKg });
	const budget = budgetOf({ ...facts, weightKg }, activity, [exercise]);
	if (!ffm.value || !budget.value) return undefined;
	const intakeKcal = Math.max(availabilityFloor * ffm.value.high, budget.value.resting.high) + exercise.high;
	return { intakeKcal, deficitKcal: Math.max(0, budget.value.total.value - intakeKcal) };
}

/**
 * Judges a goal weight and date. None without body fat measured in the last eight weeks. Refused: minors, pregnancy, a history of eating disorder; a goal under BMI 18.5
 * or implying fat under 5 % (men) or 12 % (women); more than 1 % of the goal weight a week (Garthe et al., Int J
 * Sport Nutr Exerc Metab 2011;21:97-104, aimed at 0.7); or a deficit that takes availability under 35 at the
 * unfavourable ends. A refusal for pace carries the earliest reasonable day, never a faster way.
 *
 * @param weightKg the 7-day median, 20 to 250
 * @param days from today to the goal
 * @example judgeGoal({ ageYears: 16 }, 60, 58, 56, 'sitting', { low: 0, value: 0, high: 0 }).kind // 'refused'
 */
export function judgeGoal(
	facts: WeightFacts,
	weightKg: number,
	goalKg: number,
	days: number,
	activity: DailyActivity,
	exercise: Range
): WeightPlan {
	const barred = noLossReason(facts);
	if (barred) return { kind: 'refused', reason: barred };
	const { sex, heightCm, ageYears } = facts;
	if (!sex || !heightCm || ageYears === undefined)
		return { kind: 'none', reason: 'A plan needs sex, height and year of birth: enter them.' };
	if (goalKg >= weightKg) return { kind: 'none', reason: 'The goal is not under the present weight.' };
	if (goalKg / (heightCm / 100) ** 2 < lowestBmi)
		return {
			kind: 'refused',
			reason: 'That goal lies under a body mass index of 18.5. Box a heavier class.'
		};
	const unmeasured = noFatReason(facts);
	if (unmeasured) return { kind: 'none', reason: unmeasured };
	const ffm = fatFreeMassOf({ ...facts, ageYears, weightKg });
	if (!ffm.value) return { kind: 'none', reason: ffm.reason };
	if (100 * (1 - ffm.value.high / goalKg) < leastFatPercent[sex])
		return {
			kind: 'refused',
			reason: `That goal may leave less than ${leastFatPercent[sex]} % body fat. Box a heavier class.`
		};
	const now = deepestDeficit(facts, weightKg, activity, exercise);
	const later = budgetOf({ ...facts, weightKg: goalKg }, activity, [exercise]);
	if (!now || !later.value) return { kind: 'none', reason: 'The facts do not suffice for a plan.' };
	// At the goal less is burnt, so the room is smaller; fat-free mass is taken to stay.
	const roomKcal = Math.max(0, Math.min(now.deficitKcal, later.value.total.value - now.intakeKcal));
	const fastest = Math.min(safeKgPerWeek(goalKg), (roomKcal * 7) / kcalPerKg);
	const neededKgPerWeek = days > 0 ? ((weightKg - goalKg) * 7) / days : Infinity;
	if (!(fastest >= 0.05))
		return {
			kind: 'refused',
			neededKgPerWeek,
			reason: 'There is no room for a deficit without starving. Ask a dietitian; box the present class.'
		};
	if (neededKgPerWeek > fastest)
		return {
			kind: 'refused',
			neededKgPerWeek,
			earliestDays: Math.ceil(((weightKg - goalKg) / fastest) * 7),
			reason: 'That is faster than is safe.'
		};
	const deficitKcal = (neededKgPerWeek * kcalPerKg) / 7;
	return {
		kind: 'reasonable',
		neededKgPerWeek,
		deficitKcal,
		intakeKcal: now.intakeKcal + now.deficitKcal - deficitKcal - exercise.value
	};
}

/**
 * Median weight of the seven days that end with `day`, kg.
 *
 * @param entries whole day numbers with a weight each
 * @example medianWeight([{ day: 1, kg: 70 }, { day: 2, kg: 71 }, { day: 9, kg: 69 }], 9) // 69
 */
export function medianWeight(
	entries: readonly { day: number; kg: number }[],
	day: number
): number | undefined {
	const kgs = entries
		.filter((entry) => entry.day > day - 7 && entry.day <= day)
		.map(({ kg }) => kg)
		.sort((a, b) => a - b);
	if (kgs.length === 0) return undefined;
	const middle = (kgs.length - 1) / 2;
	return (kgs[Math.floor(middle)]! + kgs[Math.ceil(middle)]!) / 2;
}
