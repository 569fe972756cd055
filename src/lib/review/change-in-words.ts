import { byDay, changeOver, type DayValue } from '$lib/physiology/change';
import { changeSentence } from '$lib/physiology/change-words';
import { yardsticks } from '$lib/physiology/yardstick';
import { dayOf } from '$lib/record/athlete-changes';
import type { ProgressPoint } from './progress';

const weekMs = 7 * 86_400_000;

/**
 * The median of the seven days up to and including each measurement, these in order of time.
 *
 * @example sevenDayMedian([{ atMs: 0, value: 1 }, { atMs: 86_400_000, value: 3 }]) // 1, 2
 */
export function sevenDayMedian(
	points: readonly Pick<ProgressPoint, 'atMs' | 'value'>[]
): { atMs: number; value: number }[] {
	// Both edges of the window only move on, because the points are in order of time.
	let first = 0;
	let next = 0;
	return points.map(({ atMs }) => {
		while (points[first]!.atMs <= atMs - weekMs) first++;
		while (next < points.length && points[next]!.atMs <= atMs) next++;
		const window = points
			.slice(first, next)
			.map(({ value }) => value)
			.sort((a, b) => a - b);
		const middle = Math.floor(window.length / 2);
		const value = window.length % 2 === 1 ? window[middle]! : (window[middle - 1]! + window[middle]!) / 2;
		return { atMs, value };
	});
}

/** The measurements day by day. */
export const daysOf = (points: readonly ProgressPoint[]): DayValue[] =>
	byDay(points.map(({ atMs, value, count = 1 }) => ({ day: dayOf(new Date(atMs)), value, count })));

/** What may be said of a change over measurements of one kind, these in order of time. */
export function changeWords(points: readonly ProgressPoint[]): string {
	const yardstick = points[0]?.yardstick;
	if (yardstick) {
		const by = yardsticks[yardstick];
		return changeSentence(changeOver(daysOf(points), by), by.unit);
	}
	const medians = sevenDayMedian(points);
	const from = medians[0];
	const to = medians.at(-1);
	if (!from || !to || points.length < 3) return 'Too few measurements to speak of a change.';
	const change = to.value - from.value;
	const size = `${Math.abs(change).toFixed(1)} ${change < 0 ? 'lower' : 'higher'} than at the start`;
	return `The 7-day median is ${size}; how much of that is noise is not known.`;
}
