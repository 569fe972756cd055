import type { Answer } from './answer';
import { sumOf, type Range } from './range';
import { restingExpenditureOf, type RestingFacts } from './resting-expenditure';

/**
 * How a day goes apart from training. The factor multiplies resting expenditure (own rule, inside the physical
 * activity levels of FAO/WHO/UNU, Human energy requirements, 2004: sedentary or light 1.40 to 1.69, active 1.70
 * to 1.99; those include training, so the lower half of each is taken).
 */
export const activityFactors = {
	sitting: { low: 1.3, value: 1.4, high: 1.5 },
	'on your feet': { low: 1.45, value: 1.6, high: 1.7 },
	'heavy work': { low: 1.6, value: 1.75, high: 1.9 }
} as const;
export type DailyActivity = keyof typeof activityFactors;

/** A day's energy, kcal. */
export interface EnergyBudget {
	resting: Range;
	/** Ordinary activity on top of resting. */
	ordinary: Range;
	/** Net cost of the day's sessions. */
	sessions: Range;
	total: Range;
	method: string;
}

/** The error of a resting equation in a single person: most lie within 10 % (`mifflinKcalPerDay`). */
const restingError = 0.1;

/**
 * A day's energy budget in kcal: resting expenditure +/- 10 %, ordinary activity as a factor on it, and the net
 * cost of the sessions. The equation for resting expenditure is chosen by `restingExpenditureOf`.
 *
 * @param sessions net costs, kcal, from `netSessionKcal`
 * @returns the reason where body mass or age is missing
 * @example budgetOf({ sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 }, 'sitting', []).value?.total.value // 2422
 */
export function budgetOf(
	facts: RestingFacts,
	activity: DailyActivity,
	sessions: readonly Range[]
): Answer<EnergyBudget> {
	const found = restingExpenditureOf(facts);
	if (!found.value) return found;
	const kcal = found.value.kcalPerDay;
	const factor = activityFactors[activity];
	const resting = { low: kcal * (1 - restingError), value: kcal, high: kcal * (1 + restingError) };
	const ordinary = {
		low: resting.low * (factor.low - 1),
		value: kcal * (factor.value - 1),
		high: resting.high * (factor.high - 1)
	};
	const spent = sumOf(sessions);
	return {
		value: {
			resting,
			ordinary,
			sessions: spent,
			total: sumOf([resting, ordinary, spent]),
			method: found.value.method
		}
	};
}

/**
 * What a session adds to the day, kcal: gross less what resting and ordinary activity would have burnt in the
 * same time anyway, never under 0.
 *
 * @param gross kcal over the counted time
 * @param restingKcal resting expenditure over the same time
 * @example netSessionKcal({ low: 400, value: 500, high: 600 }, 70, 'sitting') // 295, 402, 509
 */
export function netSessionKcal(gross: Range, restingKcal: number, activity: DailyActivity): Range {
	const factor = activityFactors[activity];
	return {
		low: Math.max(0, gross.low - restingKcal * factor.high),
		value: Math.max(0, gross.value - restingKcal * factor.value),
		high: Math.max(0, gross.high - restingKcal * factor.low)
	};
}
