import { taperDays, taperReductions, taperShares } from '$lib/physiology/taper';
import type { Bout, CampPhase } from '$lib/record/bout';
import type { PlanKind } from '$lib/rounds/plan';
import { dateOf, dayNumber } from './day-numbers';

const weekDays = 7;
/** Own rule, where nobody says when the camp begins. */
const usualWeeks = 8;
const knownWeeks = 4;

/** The Monday of a day's week, as a day number; 1 January 1970 was a Thursday. */
const mondayOf = (day: number) => day - ((day + 3) % weekDays);

/** Minutes of training by day, YYYY-MM-DD: 0 on a day of rest, absent on a day of which nothing is known. */
export type MinutesByDay = Readonly<Record<string, number>>;

export interface CampTest {
	kind: Extract<PlanKind, 'recovery check' | 'threshold run'>;
	/** The day on which it was done in that week. */
	doneOn?: string;
}

/** One week of a camp, Monday to Sunday. */
export interface CampWeek {
	monday: string;
	/** 0 in the week of the bout. */
	weeksToGo: number;
	isNow: boolean;
	phase: CampPhase;
	/** Somebody put another phase here than the proposal. */
	isMoved: boolean;
	tests: CampTest[];
	/** Days of which something is known, up to today, and the minutes of those. */
	knownDays: number;
	minutes: number;
	/** The bout lies so near that volume falls: the last 14 days begin in this week or before. */
	isTaper: boolean;
}

/**
 * The phase that is proposed so many weeks before a bout. Names: Ruddock et al., Appl Sci 2021;11:10658; lengths: own rule.
 */
export function proposedPhase(weeksToGo: number): CampPhase {
	if (weeksToGo >= 8) return 'general';
	if (weeksToGo >= 6) return 'special preparation';
	return weeksToGo >= 3 ? 'early camp' : 'late camp';
}

/**
 * The weeks from the first of the camp to that of the bout. A recovery check stands in each, a threshold run in the first
 * and in the last but two, and none later (own rule).
 *
 * @param done tests that were done, by day
 * @param today YYYY-MM-DD
 */
export function campWeeks(
	bout: Bout,
	minutes: MinutesByDay,
	done: readonly { date: string; kind: PlanKind | undefined }[],
	today: string
): CampWeek[] {
	const boutDay = dayNumber(bout.day);
	const last = mondayOf(boutDay);
	const first = bout.campFrom ? mondayOf(dayNumber(bout.campFrom)) : last - (usualWeeks - 1) * weekDays;
	const now = dayNumber(today);
	const weeks: CampWeek[] = [];
	for (let monday = first; monday <= last; monday += weekDays) {
		const weeksToGo = (last - monday) / weekDays;
		const dates = Array.from({ length: weekDays }, (_, i) => dateOf(monday + i));
		const isRunWeek = weeksToGo === 2 || (monday === first && weeksToGo > 2);
		const kinds = isRunWeek ? (['recovery check', 'threshold run'] as const) : (['recovery check'] as const);
		const known = dates.filter((date) => date <= today && minutes[date] !== undefined);
		const moved = bout.phases?.[dates[0]!];
		weeks.push({
			monday: dates[0]!,
			weeksToGo,
			isNow: monday <= now && now < monday + weekDays,
			phase: moved ?? proposedPhase(weeksToGo),
			isMoved: moved !== undefined,
			tests: kinds.map((kind) => {
				const test = done.find((one) => one.kind === kind && dates.includes(one.date));
				return { kind, ...(test && { doneOn: test.date }) };
			}),
			knownDays: known.length,
			minutes: known.reduce((sum, date) => sum + minutes[date]!, 0),
			isTaper: monday + weekDays > boutDay - taperDays
		});
	}
	return weeks;
}

/** The last fortnight in minutes, between the ends of the published reduction; or the days that are unknown. */
export type Taper =
	| {
			kind: 'planned';
			usualMinutesAWeek: number;
			days: { date: string; leastMinutes: number; mostMinutes: number }[];
	  }
	| { kind: 'unknown'; days: string[] };

/**
 * The taper before a bout from the athlete's own last four whole weeks, all of whose days must be known: those that were over
 * today, or when the taper began.
 *
 * @param today YYYY-MM-DD
 */
export function taperOf(bout: Pick<Bout, 'day'>, minutes: MinutesByDay, today: string): Taper {
	const from = dayNumber(bout.day) - taperDays;
	const until = mondayOf(Math.min(dayNumber(today), from));
	const dates = Array.from({ length: knownWeeks * weekDays }, (_, i) =>
		dateOf(until - knownWeeks * weekDays + i)
	);
	const unknown = dates.filter((date) => minutes[date] === undefined);
	if (unknown.length > 0) return { kind: 'unknown', days: unknown };
	const usualMinutesAWeek = dates.reduce((sum, date) => sum + minutes[date]!, 0) / knownWeeks;
	const perDay = usualMinutesAWeek / weekDays;
	const [most, least] = [taperShares(taperReductions.least), taperShares(taperReductions.most)];
	return {
		kind: 'planned',
		usualMinutesAWeek,
		days: most.map((share, i) => ({
			date: dateOf(from + i),
			leastMinutes: least[i]! * perDay,
			mostMinutes: share * perDay
		}))
	};
}
