import type { DailyActivity } from './energy-budget';
import { planPathOf, type PlanWeek } from './plan-path';
import type { Range } from './range';
import { judgeGoal, noLossReason, type WeightFacts } from './weight';

/** What becomes of a class limit by the weigh-in. */
export type LimitAnswer =
	/** Under the limit as it is: nothing is planned. */
	| { kind: 'made' }
	/** Nothing that loses weight is planned for this person. */
	| { kind: 'barred'; reason: string; classKg?: number }
	/** Too little is known for a plan. */
	| { kind: 'unknown'; reason: string }
	| { kind: 'safe'; weeks: PlanWeek[] }
	| {
			kind: 'unsafe';
			reason: string;
			/** The least that the guard allows at the weigh-in, and the way there; absent where it allows no loss at all. */
			leastKg?: number;
			weeks: PlanWeek[];
			/** The next class up of those typed that can be made; absent where none of them can. */
			classKg?: number;
	  };

/** The lightest of the classes that somebody of this weight is in: a limit may be met to the gram. */
export function classOf(weightKg: number, classesKg: readonly number[]): number | undefined {
	const within = classesKg.filter((kg) => kg >= weightKg);
	return within.length > 0 ? Math.min(...within) : undefined;
}

/**
 * What the guard of `judgeGoal` allows by the weigh-in, week by week: body mass alone, lost by food. Nothing is planned for
 * the hours before and after the scales.
 *
 * @param weightKg the 7-day median, 20 to 250
 * @param days from today to the weigh-in, whole
 * @param classesKg the limits of the classes as somebody typed them
 * @example limitAnswer({ ageYears: 16 }, 60.4, 60, [60, 63.5], 56, 'sitting', { low: 0, value: 0, high: 0 })
 * // { kind: 'barred', reason: 'No weight loss is planned for anybody under 18, ...', classKg: 63.5 }
 */
export function limitAnswer(
	facts: WeightFacts,
	weightKg: number,
	limitKg: number,
	classesKg: readonly number[],
	days: number,
	activity: DailyActivity,
	exercise: Range
): LimitAnswer {
	if (weightKg <= limitKg) return { kind: 'made' };
	const barred = noLossReason(facts);
	if (barred) return { kind: 'barred', reason: barred, ...known(classOf(weightKg, classesKg)) };
	const judged = (goalKg: number) => judgeGoal(facts, weightKg, goalKg, days, activity, exercise);
	const pathTo = (goalKg: number) => planPathOf(facts, weightKg, goalKg, days, activity, exercise) ?? [];
	const atLimit = judged(limitKg);
	if (atLimit.kind === 'none') return { kind: 'unknown', reason: atLimit.reason };
	if (atLimit.kind === 'reasonable') return { kind: 'safe', weeks: pathTo(limitKg) };
	// Whoever may reach a weight may stay above it, so halving finds the least; in tenths, as weights are shown.
	let [unsafe, safe] = [Math.floor(limitKg * 10), Math.ceil(weightKg * 10)];
	while (safe - unsafe > 1) {
		const middle = Math.floor((unsafe + safe) / 2);
		if (judged(middle / 10).kind === 'reasonable') safe = middle;
		else unsafe = middle;
	}
	const leastKg = safe / 10;
	const canLose = leastKg < weightKg;
	const higher = classesKg.filter((kg) => kg > limitKg);
	return {
		kind: 'unsafe',
		reason: atLimit.reason,
		...(canLose && { leastKg }),
		weeks: canLose ? pathTo(leastKg) : [],
		...known(classOf(canLose ? leastKg : weightKg, higher))
	};
}

const known = (classKg: number | undefined) => (classKg === undefined ? {} : { classKg });
