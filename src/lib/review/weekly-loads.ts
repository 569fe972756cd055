import { weekOf, type WeekOfLoads } from '$lib/physiology/load';
import { dayOf } from '$lib/record/athlete-changes';
import { loadOf, type KeptSession } from './progress';

const weekDays = 7;
const weekMs = weekDays * 86_400_000;

export interface LoadWeek extends WeekOfLoads {
	/** The first of the seven days. */
	fromMs: number;
}

const mostWeeks = 520;

/**
 * Load of each week from the first session to `untilMs`, at most ten years of them, from the session's rating times the minutes that the
 * athlete was in it. A day with a session that nobody rated is unknown, and so is its week. Weeks are seven days
 * of the calendar here, so one in which the clock is changed is an hour longer or shorter.
 */
export function weeklyLoads(sessions: readonly KeptSession[], untilMs: number): LoadWeek[] {
	const trained = sessions.filter(({ head }) => head.plan.kind !== 'resting');
	const first = trained[0];
	if (!first) return [];
	const start = new Date(first.head.startedAt);
	const dayAfter = (days: number) => new Date(start.getFullYear(), start.getMonth(), start.getDate() + days);
	const byDay = new Map<string, KeptSession[]>();
	for (const session of trained) {
		const day = dayOf(new Date(session.head.startedAt));
		byDay.set(day, [...(byDay.get(day) ?? []), session]);
	}
	const weeks: LoadWeek[] = [];
	// A clock that was wrong by decades must not make weeks by the thousand.
	const gone = Math.floor((untilMs - start.getTime()) / weekMs) - mostWeeks;
	for (
		let firstDay = Math.max(0, gone) * weekDays;
		dayAfter(firstDay).getTime() <= untilMs;
		firstDay += weekDays
	) {
		const days = Array.from({ length: weekDays }, (_, day): number | undefined => {
			const ofDay = byDay.get(dayOf(dayAfter(firstDay + day))) ?? [];
			const loads = ofDay.map(loadOf);
			return loads.every((load) => load !== undefined)
				? loads.reduce((sum, load) => sum + load, 0)
				: undefined;
		});
		const week = weekOf(days);
		const isOver = dayAfter(firstDay + weekDays).getTime() <= untilMs;
		weeks.push({
			fromMs: dayAfter(firstDay).getTime(),
			...(isOver ? week : { weeklyLoad: week.weeklyLoad, reason: 'This week is not over yet.' })
		});
	}
	return weeks;
}
