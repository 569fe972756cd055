import { budgetOf } from './energy-budget';
import type { Range } from './range';
import { deepestDeficit, judgeGoal, kcalPerKg } from './weight';

/** One week of a plan, in whole days from today. The last one may be shorter. */
export interface PlanWeek {
	fromDay: number;
	toDay: number;
	/** Weight at its end, kg: as planned, between where it may lie if the body uses more, or less, than reckoned. */
	kg: Range;
	/** Planned intake on a day without a session, kcal. The net cost of a session is eaten on top. */
	intakeKcal: Range;
}

const none: Range = { low: 0, value: 0, high: 0 };

/**
 * A plan week by week: the straight line from the present weight to the goal, and what to eat for it. Intake
 * follows the weight, because a lighter body uses less. Its lower end is never under the least intake of
 * `deepestDeficit`, whatever the body uses.
 *
 * Error: the ends of the weight follow from those of the day's energy (`budgetOf`), all falling the same way in
 * every week, with nothing corrected meanwhile: the widest reading. Water, which moves the scale by a kilogram,
 * is not in them. 7700 kcal a kilogram (Wishnofsky 1958) overstates the deficit that lean people need.
 *
 * @param goal what `judgeGoal` is asked; the exercise is the mean net session cost a day, and each session is eaten back
 * at its upper end
 * @returns undefined where `judgeGoal` finds no reasonable plan
 * @example planPathOf({ sex: 'male', heightCm: 180, ageYears: 30, bodyFatPercent: 20, bodyFatAgeDays: 0 },
 *   84, 81, 56, 'on your feet', { low: 0, value: 0, high: 0 })?.at(-1)?.kg.value // 81
 */
export function planPathOf(...goal: Parameters<typeof judgeGoal>): PlanWeek[] | undefined {
	const [facts, weightKg, goalKg, days, activity, exercise] = goal;
	const plan = judgeGoal(...goal);
	// On a day without a session fat-free mass and resting expenditure ask for no less.
	const least = deepestDeficit(facts, weightKg, activity, none)?.intakeKcal;
	if (plan.kind !== 'reasonable' || least === undefined) return undefined;
	const perDayKg = (weightKg - goalKg) / days;
	const weeks: PlanWeek[] = [];
	// How far the weight may lie above and below the line by now.
	let aboveKg = 0;
	let belowKg = 0;
	for (let fromDay = 0; fromDay < days; fromDay += 7) {
		const toDay = Math.min(days, fromDay + 7);
		const used = budgetOf({ ...facts, weightKg: weightKg - perDayKg * fromDay }, activity, []).value?.total;
		if (!used) return undefined;
		const asPlanned = used.value - plan.deficitKcal;
		const perKcal = (toDay - fromDay) / kcalPerKg;
		aboveKg += (used.value - used.low + exercise.high - exercise.low) * perKcal;
		belowKg += (used.high - used.value) * perKcal;
		const value = weightKg - perDayKg * toDay;
		weeks.push({
			fromDay,
			toDay,
			kg: { low: value - belowKg, value, high: value + aboveKg },
			intakeKcal: {
				low: Math.min(asPlanned, Math.max(least, used.low - plan.deficitKcal)),
				value: asPlanned,
				high: used.high - plan.deficitKcal
			}
		});
	}
	return weeks;
}
