import { sessionRatingLoad, weekOf, type WeekOfLoads } from '$lib/physiology/load';
import { typicalErrorOf } from '$lib/physiology/recovery';
import { dayOf } from '$lib/record/athlete-changes';
import { headPutRight } from '$lib/record/put-right';
import type { RecordEdit, RecordHead } from '$lib/record/record';
import type { Summary } from './summary';

const dayMs = 86_400_000;
const weekDays = 7;
/** Standard error of a 30-minute run's mean in 27 runners (McGehee, Tanner, Houmard 2005): of another test, drawn for scale. */
const thresholdErrorBpm = 8;

/** A kept session as progress needs it: no readings. */
export interface KeptSession {
	head: RecordHead;
	edit: Omit<RecordEdit, 'at'>;
	summary?: Summary;
}

export type ProgressMeasure = 'drop at 60' | 'tau' | 'threshold' | 'resting rate' | 'RMSSD' | 'weight';

/** One measurement, with its typical error where one is known. */
export interface ProgressPoint {
	atMs: number;
	value: number;
	error?: number;
	/** Absent where no session stands behind it. */
	sessionId?: string;
}

export interface ProgressFilter {
	athleteId: string;
	plan?: string;
	activity?: string;
}

interface Titled {
	head: Pick<RecordHead, 'plan'>;
	edit: Pick<RecordEdit, 'title' | 'planName'>;
}

/** What was put right afterwards counts. */
export const planNameOf = ({ head, edit }: Titled) => edit.planName ?? head.plan.name;
/** What a session is called: its title, or its plan where it was given none. */
export const titleOf = (session: Titled) => session.edit.title || planNameOf(session);
export const activityOf = ({ head, edit }: KeptSession) => edit.activity ?? head.plan.activity;
export const athleteIdOf = ({ head, edit }: KeptSession) => edit.athlete?.id ?? head.athlete.athleteId;

/** Whose a session is, by the name on their card as it is now, or the one noted with it where there is no card. */
export function athleteNameOf(
	{ head, edit }: KeptSession,
	cards: readonly { id: string; name: string }[]
): string {
	const { id, name } = edit.athlete ?? { id: head.athlete.athleteId, name: head.athlete.name };
	return cards.find((card) => card.id === id)?.name ?? name;
}

/** The sessions of one athlete that count, oldest first. Practice stays out, unless it is the example's. */
export function countedSessions(sessions: readonly KeptSession[], filter: ProgressFilter): KeptSession[] {
	return sessions
		.filter(
			(session) =>
				(!session.head.practice || session.head.example) &&
				athleteIdOf(session) === filter.athleteId &&
				(!filter.plan || planNameOf(session) === filter.plan) &&
				(!filter.activity || activityOf(session) === filter.activity)
		)
		.toSorted((a, b) => (a.head.startedAt < b.head.startedAt ? -1 : 1));
}

/**
 * Mean drop at 60 of a session without the rests that were set aside, and without those that another's heart made
 * before a swap of straps; undefined where none is left.
 */
export function countedDrop({
	head,
	edit,
	summary
}: KeptSession): { value: number; error: number } | undefined {
	const aside = new Set(edit.restsSetAside?.map(({ round }) => round));
	const theirsFromMs = head.strapChanges?.findLast(({ swapped }) => swapped)?.ms ?? -Infinity;
	const drops = (summary?.rounds ?? []).flatMap(({ round, rest }) =>
		rest?.drop60 === undefined || aside.has(round) || rest.startMs < theirsFromMs ? [] : rest.drop60
	);
	if (drops.length === 0) return undefined;
	const value = drops.reduce((sum, drop) => sum + drop, 0) / drops.length;
	// Independent errors of single drops shrink with the root of their number.
	return { value, error: typicalErrorOf(value) / Math.sqrt(drops.length) };
}

/** The single measurements of one kind, oldest first. */
export function progressOf(sessions: readonly KeptSession[], measure: ProgressMeasure): ProgressPoint[] {
	return sessions.flatMap((session) => {
		const found = valueOf(session, measure);
		if (!found) return [];
		return [{ atMs: Date.parse(session.head.startedAt), sessionId: session.head.id, ...found }];
	});
}

function valueOf(
	session: KeptSession,
	measure: ProgressMeasure
): { value: number; error?: number } | undefined {
	const guided = session.summary?.guided;
	const known = (value: number | undefined, error?: number) =>
		value === undefined ? undefined : { value, ...(error !== undefined && { error }) };
	switch (measure) {
		case 'drop at 60':
			return guided && guided.kind !== 'recovery check' ? undefined : countedDrop(session);
		case 'tau':
			return known(guided?.tauS, guided?.tauErrorS);
		case 'threshold':
			return known(guided?.thresholdBpm, thresholdErrorBpm);
		case 'resting rate':
			return known(guided?.restBpm);
		case 'RMSSD':
			return known(guided?.rmssdMs);
		case 'weight':
			return known(headPutRight(session.head, session.edit).athlete.weightKg);
	}
}

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
		while (points[first]!.atMs <= atMs - weekDays * dayMs) first++;
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
	const gone = Math.floor((untilMs - start.getTime()) / (weekDays * dayMs)) - mostWeeks;
	for (
		let firstDay = Math.max(0, gone) * weekDays;
		dayAfter(firstDay).getTime() <= untilMs;
		firstDay += weekDays
	) {
		const days = Array.from({ length: weekDays }, (_, day): number | undefined => {
			const ofDay = byDay.get(dayOf(dayAfter(firstDay + day))) ?? [];
			const loads = ofDay.map(({ head, edit }) =>
				edit.effort === undefined
					? undefined
					: sessionRatingLoad(edit.effort, (head.endedMs - (head.joinedMs ?? 0)) / 60_000)
			);
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

/** Whether the latest median lies away from the first by more than noise: 2.8 typical errors of a single one. */
export function changeWords(points: readonly ProgressPoint[]): string {
	const medians = sevenDayMedian(points);
	const from = medians[0];
	const to = medians.at(-1);
	if (!from || !to || points.length < 3) return 'Too few measurements to speak of a change.';
	const change = to.value - from.value;
	const errors = points.flatMap(({ error }) => error ?? []).sort((a, b) => a - b);
	const error = errors[Math.floor(errors.length / 2)];
	const size = `${Math.abs(change).toFixed(1)} ${change < 0 ? 'lower' : 'higher'} than at the start`;
	if (error === undefined) return `The 7-day median is ${size}; how much of that is noise is not known.`;
	return Math.abs(change) > 2.8 * error
		? `The 7-day median is ${size}: more than the error of single measurements explains.`
		: `The 7-day median is ${size}: within the error of single measurements, so no change can be told.`;
}

/** One weight a day: those that were entered, and where there is none that of the day's first session. */
export function weightsOf(
	sessions: readonly KeptSession[],
	entered: readonly { date: string; kg: number }[] = []
): ProgressPoint[] {
	const byDay = new Map<string, ProgressPoint>();
	for (const point of progressOf(sessions, 'weight')) {
		const day = dayOf(new Date(point.atMs));
		if (!byDay.has(day)) byDay.set(day, point);
	}
	for (const { date, kg } of entered) {
		const noted = byDay.get(date);
		// Noon here: a date alone is read as midnight in Greenwich, which west of it is the day before.
		byDay.set(date, { ...noted, atMs: noted?.atMs ?? Date.parse(`${date}T12:00`), value: kg });
	}
	return [...byDay.values()].sort((a, b) => a.atMs - b.atMs);
}
