import { meanErrorOf } from '$lib/physiology/change';
import { sessionRatingLoad } from '$lib/physiology/load';
import { dayOf } from '$lib/record/athlete-changes';
import { headPutRight, ownerOf } from '$lib/record/put-right';
import type { FoldedEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import { activityWords } from '$lib/rounds/blocks';
import { byActivity, chiefWork } from './drops-by-activity';
import { yardsticks } from '$lib/physiology/yardstick';
import type { Summary } from '$lib/record/summary';

/** A kept session as progress needs it: no readings. */
export interface KeptSession {
	head: RecordHead;
	edit: FoldedEdit;
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
	edit: Pick<FoldedEdit, 'title' | 'planName'>;
}

/** What was put right afterwards counts. */
export const planNameOf = ({ head, edit }: Titled) => edit.planName ?? head.plan.name;
/** What a session is called: its title, or its plan where it was given none. */
export const titleOf = (session: Titled) => session.edit.title || planNameOf(session);
/** Of a session of several the one that it stands for where one figure is wanted; `inParts` has them all. */
export const activityOf = ({ head, edit, summary }: KeptSession) =>
	(summary && chiefWork(summary.rounds).activity) ?? edit.activity ?? head.plan.activity;

/** A session as one of each activity, since drops are compared within one alone. */
export function inParts(session: KeptSession): KeptSession[] {
	const { summary } = session;
	const parts = summary ? byActivity(summary.rounds) : [];
	if (!summary || parts.length < 2) return [session];
	return parts.map(({ rounds }) => ({ ...session, summary: { ...summary, rounds: [...rounds] } }));
}

/** All that was done in a session, in words: "pads, bag". */
export function doneWords({ head, edit, summary }: KeptSession): string {
	const done = byActivity(summary?.rounds ?? []).flatMap(({ activity }) => activity ?? []);
	if (done.length > 0) return done.join(', ');
	return summary ? (edit.activity ?? head.plan.activity) : activityWords(headPutRight(head, edit).plan);
}

export const athleteIdOf = ({ head, edit }: KeptSession) => ownerOf(head.athlete, edit).id;

/** Whose a session is, by the name on their card as it is now, or the one noted with it where there is no card. */
export function athleteNameOf(
	{ head, edit }: KeptSession,
	cards: readonly { id: string; name: string }[]
): string {
	const { id, name } = ownerOf(head.athlete, edit);
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
				(!filter.activity || inParts(session).some((part) => activityOf(part) === filter.activity))
		)
		.toSorted((a, b) => (a.head.startedAt < b.head.startedAt ? -1 : 1));
}

/** Judged rests of a session that count: none that was set aside, or that another's heart made before a swap of straps. */
export function countedRests({ head, edit, summary }: KeptSession) {
	const aside = new Set(edit.restsSetAside?.map(({ round }) => round));
	const theirsFromMs = head.strapChanges?.findLast(({ swapped }) => swapped)?.ms ?? -Infinity;
	return chiefWork(summary?.rounds ?? []).rounds.flatMap(({ round, rest }) =>
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
type Likeness = ReturnType<typeof likenessOf>;
const isSameLikeness = (one: Likeness, other: Likeness) => one.every((part, i) => part === other[i]);
export const areAlike = (one: KeptSession, other: KeptSession) =>
	isSameLikeness(likenessOf(one), likenessOf(other));
export const hasDrops = ({ head }: KeptSession) => !head.plan.kind || head.plan.kind === 'recovery check';

/**
 * The sessions whose judged rests may be compared: those like the given one, or like the latest that has a judged
 * rest. Of one activity, and of one posture where it was noted.
 *
 * @param sessions of one athlete, oldest first
 */
export function likeSessions(sessions: readonly KeptSession[], given?: KeptSession): KeptSession[] {
	const judged = judgedOf(sessions);
	const model = given ?? judged.at(-1)?.session;
	if (!model) return [];
	const likeness = likenessOf(model);
	return judged.filter((one) => isSameLikeness(one.likeness, likeness)).map(({ session }) => session);
}

interface Judged {
	session: KeptSession;
	likeness: Likeness;
}
const judgedOfThose = new WeakMap<readonly KeptSession[], readonly Judged[]>();

/** Those with a judged rest. Each picture and sentence of a screen asks for them, of years of sessions. */
function judgedOf(sessions: readonly KeptSession[]): readonly Judged[] {
	let judged = judgedOfThose.get(sessions);
	if (!judged) {
		judged = sessions
			.flatMap(inParts)
			.filter((session) => hasDrops(session) && countedDrop(session))
			.map((session) => ({ session, likeness: likenessOf(session) }));
		judgedOfThose.set(sessions, judged);
	}
	return judged;
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

/** The session's rating times the minutes that the athlete was in it. */
export function loadOf({ head, edit }: KeptSession): number | undefined {
	return edit.effort === undefined
		? undefined
		: sessionRatingLoad(edit.effort, (head.endedMs - (head.joinedMs ?? 0)) / 60_000);
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
