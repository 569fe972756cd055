import { sessionRatingLoad } from '$lib/physiology/load';
import type { DayEntry, TrainingDay } from '$lib/record/day';
import type { PlanKind, Posture } from '$lib/rounds/plan';
import {
	activityOf,
	athleteIdOf,
	doneWords,
	countedRests,
	hasDrops,
	titleOf,
	type KeptSession
} from './progress';

/** What lists by day need of a kept session: no readings, no plan. */
export interface KeptTraining {
	id: string;
	groupId: string;
	/** ISO 8601 in UTC. */
	startedAt: string;
	/** Whose it is by the latest correction. */
	athleteId: string;
	title: string;
	/** What its drops are of. */
	activity: string;
	/** All that was done, where it was more than that. */
	done?: string;
	/** That the athlete was in it, unrounded. */
	minutes: number;
	effort?: number;
	planKind?: PlanKind;
	posture?: Posture;
	/** Drops at 60 of the judged rests that count, bpm. */
	drops: number[];
	/** Ids of the sessions of its group. */
	group?: string[];
}

/** Undefined for a session that counts for nobody: one made by the simulated strap, unless it is the example's. */
export function keptTraining(session: KeptSession): KeptTraining | undefined {
	const { head, edit } = session;
	if (head.practice && !head.example) return undefined;
	const posture = edit.posture ?? head.plan.posture;
	return {
		id: head.id,
		groupId: head.groupId,
		startedAt: head.startedAt,
		athleteId: athleteIdOf(session),
		title: titleOf(session),
		activity: activityOf(session),
		...(doneWords(session) !== activityOf(session) && { done: doneWords(session) }),
		minutes: (head.endedMs - (head.joinedMs ?? 0)) / 60_000,
		...(edit.effort !== undefined && { effort: edit.effort }),
		...(head.plan.kind && { planKind: head.plan.kind }),
		...(posture && { posture }),
		...(head.group && { group: head.group }),
		drops: hasDrops(session) ? countedRests(session).flatMap(({ drop60 }) => drop60 ?? []) : []
	};
}

/** One training of a day, with a strap or without. */
export interface Training {
	/** Of the session or of the entry. */
	id: string;
	activity: string;
	minutes: number;
	effort?: number;
	/** Effort times minutes (Foster et al. 2001); absent where nobody said how hard it felt. */
	load?: number;
	session?: KeptTraining;
	entry?: DayEntry;
	/** The training that this one may tell once more, while nobody has said. */
	maybeSameAs?: string;
	/** It is left out of sums: it tells, or may tell, a training of at least its load once more. */
	isLeftOut?: true;
}

/** A resting measurement is no training. */
export const isTraining = ({ planKind }: KeptTraining) => planKind !== 'resting';

function trainingFrom(
	{ id, activity, minutes, effort }: KeptTraining | DayEntry,
	told: Pick<Training, 'session' | 'entry'>
): Training {
	const one: Training = { id, activity: told.session?.done ?? activity, minutes, ...told };
	if (effort === undefined) return one;
	one.effort = effort;
	const load = sessionRatingLoad(effort, minutes);
	if (load !== undefined) one.load = load;
	return one;
}

type Likeness = 'same' | 'asked' | 'other';

/** Whether two trainings of a day are one. Own rule: not known of two that were entered unaware of each other. */
function likenessOf(one: Training, other: Training): Likeness {
	const saysSame = (a: Training, b: Training) => a.entry?.sameAs === b.id;
	const saysOther = (a: Training, b: Training) => a.entry?.beside?.includes(b.id) ?? false;
	if (saysSame(one, other) || saysSame(other, one)) return 'same';
	if (saysOther(one, other) || saysOther(other, one)) return 'other';
	return one.entry || other.entry ? 'asked' : 'other';
}

/** Larger loads first, those without one last; of equal ones a session with a strap first, then the longer. */
function byLoad(one: Training, other: Training): number {
	return (
		(other.load ?? -1) - (one.load ?? -1) ||
		Number(!one.session) - Number(!other.session) ||
		other.minutes - one.minutes ||
		(one.id < other.id ? -1 : 1)
	);
}

/**
 * The trainings of a day, sessions first. Of those that are, or may be, one training only the one with the larger load
 * counts (own rule): a question that nobody has answered makes no week lighter than it was.
 */
export function trainingsOf(day: TrainingDay | undefined, sessions: readonly KeptTraining[]): Training[] {
	const all = [
		...sessions.filter(isTraining).map((session) => trainingFrom(session, { session })),
		...(day?.entries ?? []).map((entry) => trainingFrom(entry, { entry }))
	];
	if (all.length < 2) return all;
	const counted: Training[] = [];
	for (const one of all.toSorted(byLoad)) {
		const twin = counted.find((other) => likenessOf(one, other) !== 'other');
		if (twin) one.isLeftOut = true;
		else counted.push(one);
	}
	all.forEach((one, i) => {
		if (!one.entry || one.entry.sameAs !== undefined) return;
		const asked = all.find(
			(other, at) => at < i && !other.entry?.sameAs && likenessOf(one, other) === 'asked'
		);
		if (asked) one.maybeSameAs = asked.id;
	});
	return all;
}

/** A training in a few words: "pads, 60 min, effort 6". */
export function trainingWords({ activity, minutes, effort }: Training): string {
	const felt = effort === undefined ? 'effort owed' : `effort ${effort}`;
	return `${activity}, ${Math.round(minutes)} min, ${felt}`;
}

/** A day in a few words. */
export function dayTrainingWords(day: TrainingDay | undefined, sessions: readonly KeptTraining[]): string {
	const { isKnown, trainings } = knownDay(day, sessions);
	if (!isKnown) return 'nothing entered';
	const told = trainings.filter(({ isLeftOut }) => !isLeftOut);
	return told.length === 0 ? 'rest' : told.map(trainingWords).join('; ');
}

/** What is known of a day's training. */
export interface KnownDay {
	/** It has a session, an entry or a tick for rest. An unknown day is never 0. */
	isKnown: boolean;
	/** Of what was rated; 0 on a day of rest. Absent where the day is unknown or nothing of it is rated. */
	load?: number;
	/** A training of it has no effort yet, so the load is at least what is given. */
	isEffortOwed: boolean;
	trainings: Training[];
}

export function knownDay(day: TrainingDay | undefined, sessions: readonly KeptTraining[]): KnownDay {
	if (!day && sessions.length === 0) return { isKnown: false, isEffortOwed: false, trainings: [] };
	const trainings = trainingsOf(day, sessions);
	const counted = trainings.filter(({ isLeftOut }) => !isLeftOut);
	const loads = counted.flatMap(({ load }) => load ?? []);
	const isRest = counted.length === 0 && day?.rest === true;
	return {
		isKnown: counted.length > 0 || isRest,
		isEffortOwed: loads.length < counted.length,
		...((loads.length > 0 || isRest) && { load: loads.reduce((sum, load) => sum + load, 0) }),
		trainings
	};
}
