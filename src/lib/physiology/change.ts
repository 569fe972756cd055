import { studentsT } from './students-t';
import type { Yardstick } from './yardstick';

/** What was measured on one day, or in one session. */
export interface DayValue {
	/** The calendar day, "2026-03-02": what is measured on one day shares that day's error. */
	day: string;
	value: number;
	/** So many measurements it is the mean of. */
	count: number;
}

/** How much the values of one athlete wander without a change. */
export interface Spread {
	/** Standard error of a single measurement, in units of the yardstick. */
	units: number;
	/** Degrees of freedom of that. */
	degrees: number;
	/** The athlete's own scatter counts in it. */
	isOwn: boolean;
}

/** What may be said of the days together. Values in the unit of the measurements. */
export type Change =
	| { kind: 'too few'; days: number; needed: number }
	| {
			kind: 'higher' | 'lower' | 'no clear change';
			days: number;
			/** Where the line through the days begins and ends. */
			from: number;
			to: number;
			/** The smallest changes that such days show with a power of 80 %, be it a step half-way or a drift. */
			smallestRise: number;
			smallestFall: number;
	  };

// The 95 % of the usual claim, both ways, and the power that is stated beside what was not found.
const claimShare = 0.975;
const powerShare = 0.8;

/**
 * The measurements day by day: each day's mean, with the number that it is of. Days keep their order.
 *
 * @example byDay([{ day: 'a', value: 40, count: 1 }, { day: 'a', value: 46, count: 2 }]) // one day: 44 of 3
 */
export function byDay(values: readonly DayValue[]): DayValue[] {
	const days = new Map<string, DayValue>();
	for (const { day, value, count } of values) {
		const so = days.get(day) ?? { day, value: 0, count: 0 };
		const all = so.count + count;
		days.set(day, { day, value: (so.value * so.count + value * count) / all, count: all });
	}
	return [...days.values()];
}

/**
 * Standard error of a day's mean, in the unit of the value: the day's share of the variance stays, however many
 * measurements there were; that within the day shrinks with their number.
 *
 * @example meanErrorOf({ value: 50, count: 12 }, yardsticks.drop) // 7.36, where one rest has 10
 */
export function meanErrorOf(
	{ value, count }: Pick<DayValue, 'value' | 'count'>,
	yardstick: Yardstick,
	spread: Pick<Spread, 'units'> = { units: 1 }
): number {
	const error = yardstick.errorAt(value) * spread.units * Math.sqrt(varianceOf(count, yardstick));
	return Math.max(yardstick.leastError, error);
}

/**
 * How much the days of one athlete scatter about a line with a step half-way, so that neither a drift nor a step passes
 * for scatter. From `ownFromDays` on that is pooled with the yardstick's own error, which weighs as `weight` says;
 * before, the yardstick's error alone counts.
 *
 * @param days one value a day, in order of time
 * @example spreadOf([], yardsticks.drop) // { units: 1, degrees: 5, isOwn: false }
 */
export function spreadOf(days: readonly DayValue[], yardstick: Yardstick): Spread {
	const { ownFromDays, weight } = yardstick;
	if (days.length < ownFromDays) return { units: 1, degrees: yardstick.degrees, isOwn: false };
	const degrees = weight + days.length - 3;
	const values = days.map(({ value }) => yardstick.toUnits(value));
	const scatter = scatterOf(values, weightsOf(days, yardstick));
	return { units: Math.sqrt((weight + scatter) / degrees), degrees, isOwn: true };
}

/**
 * Has something changed over these days? A straight line is laid through them in their order, each weighing by the
 * error of its mean, and its rise from first to last is a change only beyond Student's t (97.5 %) times its error.
 * `smallestRise` and `smallestFall` are what days like these show in four of five cases, be it a drift from first to
 * last or a step half-way. Where the error is a share of the value, a rise takes more than a fall.
 *
 * @param days one value a day, in order of time; of like with like
 * @param spread of the athlete's days, where more are known than these
 * @example changeOver(days, yardsticks.drop) // { kind: 'no clear change', days: 6, from: 38, to: 42, smallestRise: 18, ... }
 */
export function changeOver(
	days: readonly DayValue[],
	yardstick: Yardstick,
	spread: Spread = spreadOf(days, yardstick)
): Change {
	const n = days.length;
	if (n < yardstick.leastDays) return { kind: 'too few', days: n, needed: yardstick.leastDays };
	const weights = weightsOf(days, yardstick);
	const line = lineThrough(
		days.map(({ value }) => yardstick.toUnits(value)),
		weights
	);
	const level = yardstick.fromUnits(line.mean);
	const leastUnits = (yardstick.leastError / yardstick.errorAt(level)) * Math.sqrt(Math.max(...weights));
	const units = Math.max(spread.units, leastUnits);
	const claim = studentsT(claimShare, spread.degrees) * line.riseError;

	const from = yardstick.fromUnits(line.mean - line.rise * line.before);
	const to = yardstick.fromUnits(line.mean + line.rise * (1 - line.before));
	const isSmall = Math.max(Math.abs(from), Math.abs(to)) <= yardstick.small;
	const kind =
		Math.abs(line.rise) <= units * claim || isSmall ? 'no clear change' : line.rise > 0 ? 'higher' : 'lower';
	const drift = claim + powerErrors(spread) * line.riseError;
	// Of a step half-way other than the whole may reach the line.
	const smallestUnits =
		(units * drift) / Math.min(1, ...halfWay(n).map((step) => lineThrough(step, weights).rise));
	const smallestRise = yardstick.fromUnits(line.mean + smallestUnits) - level;
	const smallestFall = level - yardstick.fromUnits(line.mean - smallestUnits);
	return { kind, days: n, from, to, smallestRise, smallestFall };
}

/**
 * How many errors beyond the claim a change must lie to be claimed with the power that is stated. Where the error is
 * the athlete's own, it is known no better than its degrees of freedom say (relative variance 1 / 2 degrees), here and
 * in the sessions that would show the change.
 */
function powerErrors({ degrees, isOwn }: Spread): number {
	const claimT = studentsT(claimShare, degrees);
	const powerT = studentsT(powerShare, degrees);
	return isOwn ? powerT * Math.sqrt(1 + (claimT ** 2 + (claimT + powerT) ** 2) / (2 * degrees)) : powerT;
}

/** A step of 1 in the middle of so many days; of an odd number it has two places. */
function halfWay(n: number): number[][] {
	const stepAt = (at: number) => Array.from({ length: n }, (_, i) => (i < at ? 0 : 1));
	return [stepAt(Math.floor(n / 2)), stepAt(Math.ceil(n / 2))];
}

/** Variance of a day's mean as a part of that of one measurement. */
const varianceOf = (count: number, { withinDay }: Yardstick) => 1 - withinDay + withinDay / count;
const weightsOf = (days: readonly DayValue[], yardstick: Yardstick) =>
	days.map(({ count }) => 1 / varianceOf(count, yardstick));

const dot = (weights: readonly number[], a: readonly number[], b: readonly number[]) =>
	weights.reduce((sum, weight, i) => sum + weight * a[i]! * b[i]!, 0);

/** The weighted sum of squares about the line with a step half-way. */
function scatterOf(values: readonly number[], weights: readonly number[]): number {
	const { off } = lineThrough(values, weights);
	const scatters = halfWay(values.length).map((whole) => {
		const step = lineThrough(whole, weights).off;
		return dot(weights, off, off) - dot(weights, off, step) ** 2 / dot(weights, step, step);
	});
	return Math.max(0, Math.min(...scatters));
}

/** The weighted least-squares line through values in their order. */
function lineThrough(values: readonly number[], weights: readonly number[]) {
	const ones = values.map(() => 1);
	const total = dot(weights, ones, ones);
	const middle = dot(weights, ones, [...values.keys()]) / total;
	const mean = dot(weights, ones, values) / total;
	const places = values.map((_, i) => i - middle);
	const sxx = dot(weights, places, places);
	const slope = dot(weights, places, values) / sxx;
	const steps = values.length - 1;
	return {
		mean,
		/** From the first to the last. */
		rise: slope * steps,
		riseError: steps / Math.sqrt(sxx),
		/** The part of the way that lies before the mean. */
		before: middle / steps,
		/** What each value lies off the line. */
		off: values.map((value, i) => value - mean - slope * places[i]!)
	};
}
