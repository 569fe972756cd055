import { byDay, changeOver, meanErrorOf, type DayValue } from '$lib/physiology/change';
import { changeSentence } from '$lib/physiology/change-words';
import { sessionRatingLoad } from '$lib/physiology/load';
import { dayOf } from '$lib/record/athlete-changes';
import { headPutRight } from '$lib/record/put-right';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import { yardsticks } from '$lib/physiology/yardstick';
import type { Summary } from '$lib/record/summary';

const dayMs = 86_400_000;
const weekDays = 7;

/** A kept session as progress needs it: no readings. */
export interface KeptSession {
	head: RecordHead;
	edit: Omit<RecordEdit, 'at'>;
	summary?: Summary;
}

export type ProgressMeasure =
	'drop at 60' | 'rate at 60' | 'tau' | 'threshold' | 'resting rate' | 'RMSSD' | 'weight';

/** One measurement, with its typical error where one is known. */
export interface ProgressPoint {
	atMs: number;
	value: number;
	error?: number;
	/** So many judged rests it is the mean of. */
	count?: number;
	/** What a change of it is judged by; absent where its noise is not known. */
	yardstick?: keyof typeof yardsticks;
	/** How hard the session felt, and its load by that. */
	effort?: number;
	load?: number;
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

/** Judged rests of a session that count: none that was set aside, or that another's heart made before a swap of straps. */
export function countedRests({ head, edit, summary }: KeptSession) {
	const aside = new Set(edit.restsSetAside?.map(({ round }) => round));
	const theirsFromMs = head.strapChanges?.findLast(({ swapped }) => swapped)?.ms ?? -Infinity;
	return (summary?.rounds ?? []).flatMap(({ round, rest }) =>
		!rest || rest.verdict === 'not judged' || aside.has(round) || rest.startMs < theirsFromMs ? [] : rest
	);
}

function meanOfRests(values: readonly (number | undefined)[], yardstick: 'drop' | 'rateShare') {
	const known = values.filter((value) => value !== undefined);
	if (known.length === 0) return undefined;
	const count = known.length;
	const value = known.reduce((sum, one) => sum + one, 0) / count;
	return { value, error: meanErrorOf({ value, count }, yardsticks[yardstick]), count, yardstick };
}

/** Mean drop at 60 of a session's judged rests; undefined where none counts. */
export function countedDrop(session: KeptSession) {
	return meanOfRests(
		countedRests(session).map(({ drop60 }) => drop60),
		'drop'
	);
}

/** Mean rate after one minute of the same rests, as a share of the threshold that the athlete had, %. */
function countedRateShare(session: KeptSession) {
	const { thresholdBpm } = headPutRight(session.head, session.edit).athlete;
	if (thresholdBpm === undefined) return undefined;
	return meanOfRests(
		countedRests(session).map(({ rate60 }) => rate60 && (100 * rate60) / thresholdBpm),
		'rateShare'
	);
}

/** What has to agree before drops are compared. */
export const likenessOf = (session: KeptSession) =>
	[session.head.plan.kind, activityOf(session), session.edit.posture ?? session.head.plan.posture] as const;
export const areAlike = (one: KeptSession, other: KeptSession) =>
	likenessOf(one).every((part, i) => part === likenessOf(other)[i]);
export const hasDrops = ({ head }: KeptSession) => !head.plan.kind || head.plan.kind === 'recovery check';

/**
 * The sessions whose judged rests may be compared: those like the given one, or like the latest that has a judged
 * rest. Of one activity, and of one posture where it was noted.
 *
 * @param sessions of one athlete, oldest first
 */
export function likeSessions(sessions: readonly KeptSession[], given?: KeptSession): KeptSession[] {
	const judged = sessions.filter((session) => hasDrops(session) && countedDrop(session));
	const model = given ?? judged.at(-1);
	return model ? judged.filter((session) => areAlike(session, model)) : [];
}

/** The single measurements of one kind, oldest first; drops, and rates after a minute, of like sessions alone. */
export function progressOf(sessions: readonly KeptSession[], measure: ProgressMeasure): ProgressPoint[] {
	const isOfRests = measure === 'drop at 60' || measure === 'rate at 60';
	return (isOfRests ? likeSessions(sessions) : sessions).flatMap((session) => {
		const found = valueOf(session, measure);
		if (!found) return [];
		const atMs = Date.parse(session.head.startedAt);
		const felt = isOfRests ? { effort: session.edit.effort, load: loadOf(session) } : {};
		return [{ atMs, sessionId: session.head.id, ...felt, ...found }];
	});
}

function valueOf(
	session: KeptSession,
	measure: ProgressMeasure
): Pick<ProgressPoint, 'value' | 'error' | 'count' | 'yardstick'> | undefined {
	const guided = session.summary?.guided;
	const known = (value: number | undefined, yardstick?: keyof typeof yardsticks) =>
		value === undefined
			? undefined
			: { value, ...(yardstick && { error: yardsticks[yardstick].errorAt(value), yardstick }) };
	switch (measure) {
		case 'drop at 60':
			return countedDrop(session);
		case 'rate at 60':
			return countedRateShare(session);
		case 'tau':
			return known(guided?.tauS, 'tau');
		case 'threshold':
			return known(guided?.thresholdBpm, 'threshold');
		case 'resting rate':
			return known(guided?.restBpm, 'restingRate');
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

/** The session's rating times the minutes that the athlete was in it. */
function loadOf({ head, edit }: KeptSession): number | undefined {
	return edit.effort === undefined
		? undefined
		: sessionRatingLoad(edit.effort, (head.endedMs - (head.joinedMs ?? 0)) / 60_000);
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
