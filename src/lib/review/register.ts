import type { Athlete } from '$lib/record/athlete';
import { blockedBy, restrictionOf, type Planned } from '$lib/record/way-back';
import { withEntry, type DayEntry, type TrainingDay } from '$lib/record/day';
import type { Plan } from '$lib/rounds/plan';
import { activityWords } from '$lib/rounds/blocks';
import { timelineOf } from '$lib/rounds/timeline';
import { isTraining, knownDay, type KeptTraining, type KnownDay, type Training } from './training';
import { trainingsByAthlete, trainingsByDate } from './weeks';

/** The row of an athlete in the register of a day. */
export interface RegisterRow extends KnownDay {
	athleteId: string;
	name: string;
	day: TrainingDay;
	isRest: boolean;
}

/** What a new row is filled with. */
export interface UsualTraining {
	activity: string;
	minutes: number;
	groupId?: string;
}

export const emptyDayOf = (): TrainingDay => ({ entries: [] });

/** The rows of a day, in the order of the athletes. */
export function registerRows(
	athletes: readonly { id: string; name: string }[],
	days: ReadonlyMap<string, TrainingDay>,
	trainings: readonly KeptTraining[]
): RegisterRow[] {
	const sessionsOf = trainingsByAthlete(trainings);
	return athletes.map(({ id, name }) => {
		const day = days.get(id) ?? emptyDayOf();
		const known = knownDay(day, sessionsOf.get(id) ?? []);
		return { athleteId: id, name, day, ...known, isRest: known.isKnown && known.trainings.length === 0 };
	});
}

/** Those of one of the gym's groups; everybody where none is named. */
export const inGroup = <Person extends Pick<Athlete, 'groups'>>(people: readonly Person[], group: string) =>
	people.filter(({ groups }) => !group || groups?.includes(group));

/** What most of those without a strap did: the session of the day that most were in, else the plan. */
export function usualTraining(trainings: readonly KeptTraining[], plan: Plan): UsualTraining {
	const sizes = new Map<string, number>();
	for (const { groupId } of trainings.filter(isTraining)) sizes.set(groupId, (sizes.get(groupId) ?? 0) + 1);
	const [largest] = [...sizes].sort(([, one], [, other]) => other - one);
	const model = trainings.find(({ groupId }) => groupId === largest?.[0]);
	const minutes = model ? model.minutes : (timelineOf(plan).at(-1)?.endMs ?? 0) / 60_000;
	return {
		activity: model?.done ?? model?.activity ?? activityWords(plan),
		// Where the gym's own bell rings, nobody knows before how long it takes.
		minutes: Number.isFinite(minutes) ? Math.max(1, Math.round(minutes)) : 60,
		...(model && { groupId: model.groupId })
	};
}

/** What a press in the register changes: the day that is kept, or the effort of a session with a strap. */
export type RegisterChange =
	{ kind: 'day'; changed: TrainingDay } | { kind: 'session'; sessionId: string; effort: number };

interface Making {
	usual: UsualTraining;
	id: string;
	/** ISO 8601 in UTC. */
	madeAt: string;
}

/** A training that somebody who sees the whole row enters: it is none of those that stand there. */
function newEntry(row: RegisterRow, { usual, id, madeAt }: Making): DayEntry {
	const known = row.trainings.map((one) => one.id);
	return { id, ...usual, madeAt, ...(known.length > 0 && { beside: known }) };
}

/** An effort goes to the oldest training that owes one, else to the last one; where there is none, to a new one. */
export function rated(row: RegisterRow, effort: number, making: Making): RegisterChange {
	const own = row.trainings.filter(({ isLeftOut }) => !isLeftOut);
	const training = own.find((one) => one.effort === undefined) ?? own.at(-1);
	if (!training) return { kind: 'day', changed: withEntry(row.day, { ...newEntry(row, making), effort }) };
	return ratedOne(row, training, effort);
}

export function ratedOne(row: RegisterRow, training: Training, effort: number): RegisterChange {
	return training.entry
		? { kind: 'day', changed: withEntry(row.day, { ...training.entry, effort }) }
		: { kind: 'session', sessionId: training.id, effort };
}

/** Somebody was there, and how hard it felt will be asked: the effort is owed. */
export function wasThere(row: RegisterRow, making: Making): RegisterChange {
	return { kind: 'day', changed: withEntry(row.day, newEntry(row, making)) };
}

/** A day of rest, ticked or taken back; undefined where something was trained. */
export function rested(row: RegisterRow): RegisterChange | undefined {
	if (row.trainings.length > 0) return undefined;
	const { rest, ...others } = row.day;
	return { kind: 'day', changed: rest ? others : { ...others, rest: true } };
}

/** The answer to "same training?", kept with the entry that was asked about. */
export function answered(row: RegisterRow, training: Training, isSame: boolean): RegisterChange | undefined {
	const { entry, maybeSameAs } = training;
	if (!entry || maybeSameAs === undefined) return undefined;
	const answer = isSame ? { sameAs: maybeSameAs } : { beside: [...(entry.beside ?? []), maybeSameAs] };
	return { kind: 'day', changed: withEntry(row.day, { ...entry, ...answer }) };
}

/**
 * What is said, by athlete, of those who are restricted on a day (YYYY-MM-DD): a training of it that is locked for them is
 * named, since it is entered all the same where it was done. Why they are is not for others to read.
 */
export function restrictedOn(
	athletes: readonly Athlete[],
	rows: readonly RegisterRow[],
	date: string
): Map<string, string> {
	const trained = new Map(rows.map(({ athleteId, trainings }) => [athleteId, trainings]));
	return new Map(
		athletes.flatMap((athlete) => {
			if (!restrictionOf(athlete, date)) return [];
			const activities = new Set(trained.get(athlete.id)?.map(({ activity }) => activity));
			const locked = [...activities].filter((activity) =>
				blockedBy(athlete, { activity: activity.toLowerCase() as Planned['activity'] }, date)
			);
			const words = locked.length > 0 ? `restricted: ${locked.join(' and ')} locked` : 'restricted';
			return [[athlete.id, words]];
		})
	);
}

/** An effort that somebody owes. */
export interface OwedEffort {
	athleteId: string;
	name: string;
	/** YYYY-MM-DD. */
	date: string;
	training: Training;
}

/** Who owes an effort, oldest first. */
export function owedEfforts(rows: readonly { date: string; row: RegisterRow }[]): OwedEffort[] {
	return rows
		.flatMap(({ date, row: { athleteId, name, trainings } }) =>
			trainings
				.filter(({ effort, isLeftOut }) => effort === undefined && !isLeftOut)
				.map((training) => ({ athleteId, name, date, training }))
		)
		.sort((one, other) => (one.date < other.date ? -1 : one.date > other.date ? 1 : 0));
}

/** Every day of each athlete with anything in it, as rows of the register. */
export function rowsByDate(
	people: readonly { id: string; name: string }[],
	days: ReadonlyMap<string, { days: ReadonlyMap<string, TrainingDay> }>,
	trainings: readonly KeptTraining[]
): { date: string; row: RegisterRow }[] {
	const byDate = trainingsByDate(trainings);
	const dates = new Set(byDate.keys());
	for (const { days: own } of days.values()) for (const date of own.keys()) dates.add(date);
	return [...dates].flatMap((date) => {
		const ofDate = new Map<string, TrainingDay>();
		for (const [id, { days: own }] of days) {
			const day = own.get(date);
			if (day) ofDate.set(id, day);
		}
		const sessions = byDate.get(date) ?? [];
		const boxed = new Set(sessions.map(({ athleteId }) => athleteId));
		const known = people.filter(({ id }) => ofDate.has(id) || boxed.has(id));
		return registerRows(known, ofDate, sessions).map((row) => ({ date, row }));
	});
}

/** Why an entry cannot be true, in a sentence for the page; undefined where it can. */
export function entryProblem({
	minutes,
	effort,
	activity
}: {
	minutes: number;
	effort?: number;
	activity: string;
}): string | undefined {
	if (activity.trim() === '') return 'Say what was done, in a word or two.';
	if (activity.length > 60) return 'What was done has at most 60 letters.';
	if (!Number.isInteger(minutes) || minutes < 1 || minutes > 1440)
		return 'Minutes lie between 1 and 1,440, which is a day.';
	if (effort !== undefined && !(effort >= 0 && effort <= 10)) return 'Effort lies between 0 and 10.';
	return undefined;
}
