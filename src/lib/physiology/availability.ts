import type { Range } from './range';

/** kcal per kg of fat-free mass a day. */
const availabilityAlarm = 30;
export const availabilityFloor = 35;
const availabilityBalance = 45;

/**
 * Energy availability: (intake - net exercise) / fat-free mass, kcal/kg/day. About 45 is balance, under 30 is
 * low. Each end takes the unfavourable ends of what goes in. The bands come from young women, are debated, and
 * are unknown in men (Areta, Taylor, Koehler, Eur J Appl Physiol 2021;121:1-21).
 * Source: Loucks & Thuma, J Clin Endocrinol Metab 2003;88:297-311.
 *
 * @param intakeKcal undefined where none was logged: then availability is unknown, never zero
 * @param fatFreeKg above 0
 * @example availabilityOf(2400, { low: 700, value: 700, high: 700 }, { low: 50, value: 50, high: 50 })?.value // 34
 */
export function availabilityOf(
	intakeKcal: number | undefined,
	exercise: Range,
	fatFreeKg: Range
): Range | undefined {
	if (intakeKcal === undefined) return undefined;
	const least = intakeKcal - exercise.high;
	const most = intakeKcal - exercise.low;
	return {
		low: least / (least >= 0 ? fatFreeKg.high : fatFreeKg.low),
		value: (intakeKcal - exercise.value) / fatFreeKg.value,
		high: most / (most >= 0 ? fatFreeKg.low : fatFreeKg.high)
	};
}

/**
 * How many of the last days in a row, counted back from the newest complete one, lay under the planning floor of
 * 35. A day that is not complete (its food or training is not known whole) neither counts nor ends the row. Own rule: three or more are worth a word.
 *
 * @param days oldest first; undefined is a day that is not complete
 * @example daysUnderFloor([44, 33, undefined, 31]) // 2
 */
export function daysUnderFloor(days: readonly (number | undefined)[]): number {
	let count = 0;
	for (const day of [...days].reverse()) {
		if (day === undefined) continue;
		if (day >= availabilityFloor) break;
		count++;
	}
	return count;
}

/**
 * The published band of an availability, with the planning floor of 35 between (own rule).
 *
 * @param value kcal/kg/day
 * @example availabilityBand(34) // 'under the floor'
 */
export function availabilityBand(value: number): 'low' | 'under the floor' | 'reduced' | 'in balance' {
	if (value < availabilityAlarm) return 'low';
	if (value < availabilityFloor) return 'under the floor';
	return value < availabilityBalance ? 'reduced' : 'in balance';
}
