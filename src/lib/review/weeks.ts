import { grouped } from '$lib/record/grouped';
import { weekOf, type WeekOfLoads } from '$lib/physiology/load';
import { dayOf } from '$lib/record/athlete-changes';
import type { TrainingDay } from '$lib/record/day';
import { knownDay, type KeptTraining, type KnownDay } from './training';

const weekDays = 7;
const mostWeeks = 520;
const weeksBefore = 4;

/** A week from Monday to Sunday on the calendar here, as far as it is known. */
export interface LoadWeek extends WeekOfLoads {
	/** Its Monday. */
	fromMs: number;
	/** Days of it that have begun. */
	daysSoFar: number;
	/** Of these, days whose whole load is known. */
	knownDays: number;
	/** Trainings whose effort nobody said. */
	owed: number;
	/** Sum of what is known: the week's load is this or more. */
	atLeast: number;
	/** Mean of the four weeks before; absent where one of them is not known whole. */
	meanBefore?: number;
}

/** The Monday of a day's week, at midnight here. */
export function mondayOf(day: Date): Date {
	return new Date(day.getFullYear(), day.getMonth(), day.getDate() - ((day.getDay() + 6) % 7));
}

/** Midnight so many days of the calendar after a day: one on which the clock is changed is an hour longer or shorter. */
export const daysAfter = (day: Date, count: number) =>
	new Date(day.getFullYear(), day.getMonth(), day.getDate() + count);

/**
 * What a week came to, from its days that have begun, Monday first. Sameness of days and load x sameness want seven days that
 * are known; a sum of fewer says of how many it is.
 */
export function weekOfDays(fromMs: number, days: readonly KnownDay[]): LoadWeek {
	const known = days.filter(({ isKnown, isEffortOwed }) => isKnown && !isEffortOwed);
	const owed = days.flatMap(({ trainings }) =>
		trainings.filter(({ isLeftOut, load }) => !isLeftOut && load === undefined)
	).length;
	const week = {
		fromMs,
		daysSoFar: days.length,
		knownDays: known.length,
		owed,
		atLeast: days.reduce((sum, { load }) => sum + (load ?? 0), 0)
	};
	if (days.length < weekDays) return { ...week, reason: `This week is not over yet. ${partWords(week)}` };
	if (known.length < weekDays) return { ...week, reason: partWords(week) };
	return { ...week, ...weekOf(days.map(({ load }) => load)) };
}

type Part = Pick<LoadWeek, 'knownDays' | 'daysSoFar' | 'owed' | 'atLeast'>;

/** "4 of 7 days known: at least 1,240." */
function partWords({ knownDays, daysSoFar, owed, atLeast }: Part): string {
	const known = `${knownDays} of ${daysSoFar} day${daysSoFar === 1 ? '' : 's'} known`;
	const owes = owed === 0 ? '' : `, ${owed === 1 ? 'one effort' : `${owed} efforts`} owed`;
	if (knownDays === daysSoFar) return `${known}: ${figure(atLeast)}.`;
	return atLeast > 0 ? `${known}${owes}: at least ${figure(atLeast)}.` : `${known}${owes}.`;
}

const figure = (load: number) => Math.round(load).toLocaleString('en');

/** A week's load in a sentence, and against the athlete's own four weeks before where they are known. */
export function weekWords(week: LoadWeek): string {
	const { weeklyLoad, meanBefore } = week;
	if (weeklyLoad === undefined) return partWords(week);
	if (meanBefore === undefined)
		return `All 7 days known: ${figure(weeklyLoad)}. The four weeks before are not all known.`;
	return `All 7 days known: ${figure(weeklyLoad)}, against a mean of ${figure(meanBefore)} in the four weeks before.`;
}

/**
 * Every week from the first day with anything known to `untilMs`, oldest first, at most ten years of them.
 *
 * @param trainings those with a strap of one athlete
 * @param days what was entered, by date (YYYY-MM-DD)
 */
export function weeklyLoads(
	trainings: readonly KeptTraining[],
	days: ReadonlyMap<string, TrainingDay>,
	untilMs: number
): LoadWeek[] {
	const byDate = trainingsByDate(trainings);
	const first = [...byDate.keys(), ...days.keys()].reduce((a, b) => (b < a ? b : a), '9999');
	if (first === '9999') return [];
	const until = new Date(untilMs);
	const start = mondayOf(new Date(`${first}T12:00`));
	const earliest = daysAfter(mondayOf(until), -weekDays * (mostWeeks - 1));
	const known = knownOn(days, byDate);
	const weeks: LoadWeek[] = [];
	// A clock that was wrong by decades must not make weeks by the thousand.
	for (
		let monday = start > earliest ? start : earliest;
		monday.getTime() <= untilMs;
		monday = daysAfter(monday, weekDays)
	)
		weeks.push(weekFrom(monday, known, untilMs));
	return withMeans(weeks);
}

/** What is known of each date of one athlete, worked out once for whoever asks. */
export function knownOn(
	days: ReadonlyMap<string, TrainingDay>,
	byDate: ReadonlyMap<string, readonly KeptTraining[]>
): (date: string) => KnownDay {
	const known = new Map<string, KnownDay>();
	return (date) => {
		const found = known.get(date) ?? knownDay(days.get(date), byDate.get(date) ?? []);
		known.set(date, found);
		return found;
	};
}

/** The week of a Monday against the four before it. */
export function weekAgainstBefore(
	monday: Date,
	known: (date: string) => KnownDay,
	untilMs: number
): LoadWeek {
	const mondays = Array.from({ length: weeksBefore + 1 }, (_, i) =>
		daysAfter(monday, weekDays * (i - weeksBefore))
	);
	return withMeans(mondays.map((one) => weekFrom(one, known, untilMs))).at(-1)!;
}

/** The week of a Monday, its days up to `untilMs`, each as it is known. */
export function weekFrom(monday: Date, known: (date: string) => KnownDay, untilMs: number): LoadWeek {
	const dates = Array.from({ length: weekDays }, (_, i) => daysAfter(monday, i))
		.filter((day) => day.getTime() <= untilMs)
		.map(dayOf);
	return weekOfDays(monday.getTime(), dates.map(known));
}

/** Sets each week against the four before it. */
function withMeans(weeks: readonly LoadWeek[]): LoadWeek[] {
	return weeks.map((week, i) => {
		const before = weeks.slice(Math.max(0, i - weeksBefore), i).flatMap(({ weeklyLoad }) => weeklyLoad ?? []);
		if (before.length < weeksBefore) return week;
		return { ...week, meanBefore: before.reduce((sum, load) => sum + load, 0) / weeksBefore };
	});
}

/** Trainings by the date on which they began, here. */
export const trainingsByDate = (trainings: readonly KeptTraining[]) =>
	grouped(trainings, ({ startedAt }) => dayOf(new Date(startedAt)));

export const trainingsByAthlete = (trainings: readonly KeptTraining[]) =>
	grouped(trainings, ({ athleteId }) => athleteId);
