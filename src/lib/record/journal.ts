import * as v from 'valibot';
import { between, elapsedMs, idSchema, instantSchema, shape, wholeBetween } from './check';
import {
	amendmentSchema,
	athleteSnapshotSchema,
	cornerEventSchema,
	roundRangeSchema,
	strapChangeSchema
} from './head';
import type { SessionRecord } from './body';
import type { DayEntry } from './day';
import type { Summary } from './summary';
import { planSchema } from '$lib/rounds/plan-schema';

/** An athlete, and the strap they begin with. */
export type Entrant = v.InferOutput<typeof entrantSchema>;

const entrantSchema = shape({
	recordId: idSchema,
	athlete: athleteSnapshotSchema,
	/** Absent where they begin without one. */
	strapName: v.optional(v.string()),
	practice: v.boolean()
});

const cornerIndex = wholeBetween(0, 99);

const turnSchema = shape({ who: cornerIndex, rounds: v.array(roundRangeSchema) });

/** The first entry of a journal: all that is known when Start is pressed. */
export type SessionStart = v.InferOutput<typeof sessionStartSchema>;

export const sessionStartSchema = shape({
	sessionId: idSchema,
	/** ISO 8601 in UTC; the only wall-clock time of a session. */
	startedAt: instantSchema,
	zone: v.string(),
	plan: planSchema,
	/** Who is there at Start; entries name a corner by its place in this list, or by the one it joined with. */
	corners: v.pipe(v.array(entrantSchema), v.minLength(1)),
	/** For each strap that several are to wear in turn: who, and in which rounds. */
	turns: v.optional(v.array(v.array(turnSchema)))
});

const largestRrMs = (0xffff * 1000) / 1024;

/** A reading in a journal: one packet of one corner, at `ms` of elapsed time. */
export type ReadingEntry = v.InferOutput<typeof readingEntrySchema>;

const readingEntrySchema = v.object({
	kind: v.literal('reading'),
	corner: cornerIndex,
	ms: elapsedMs,
	bpm: wholeBetween(0, 0xffff),
	contact: v.picklist(['not supported', 'no contact', 'contact']),
	energyKJ: v.optional(wholeBetween(0, 0xffff)),
	rrMs: v.pipe(v.array(between(0, largestRrMs)), v.maxLength(0xff))
});

/** What is appended to the journal while a session runs, in the order in which it happened. */
export type JournalEntry = v.InferOutput<typeof journalEntrySchema>;

export const journalEntrySchema = v.variant('kind', [
	v.object({ kind: v.literal('start'), start: sessionStartSchema }),
	readingEntrySchema,
	v.object({ kind: v.literal('amendment'), amendment: amendmentSchema }),
	v.object({ kind: v.literal('event'), corner: cornerIndex, event: cornerEventSchema }),
	v.object({ kind: v.literal('join'), corner: cornerIndex, ms: elapsedMs, entrant: entrantSchema }),
	v.object({ kind: v.literal('leave'), corner: cornerIndex, ms: elapsedMs }),
	v.object({ kind: v.literal('strap'), corner: cornerIndex, change: strapChangeSchema }),
	/** The corner puts on a strap: the one that `from` wore, or one that nobody did. */
	v.object({
		kind: v.literal('hand over'),
		corner: cornerIndex,
		from: v.optional(cornerIndex),
		ms: elapsedMs,
		strapName: v.string(),
		practice: v.boolean()
	}),
	/** It never was: `from` had worn the strap all along. */
	v.object({ kind: v.literal('hand over undone'), corner: cornerIndex, from: cornerIndex, ms: elapsedMs })
]);

/** The entry of a day that somebody is to have who took part without a strap. */
export interface GroupEntry {
	athleteId: string;
	/** When the session began: ISO 8601 in UTC. */
	startedAt: string;
	entry: DayEntry;
}

/** A record on its way to the store. Without a summary, one is computed when the record is first read. */
export interface MeasuredRecord extends SessionRecord {
	summary?: Summary;
}

/** What was appended before lies in the store no longer (the browser cleared it): everything must be written anew. */
export class JournalGone extends Error {
	override readonly name = 'JournalGone';
}

/** The store was asked and has not answered: what it was given may still come to lie there. */
export class StoreSilent extends Error {
	override readonly name = 'StoreSilent';
	readonly code = 'silent';
}

/** A store that has not answered for so long is said not to (own rule; a slow disk takes a second at times). */
export const answerWithinMs = 5000;

/** What a session became. */
export interface Finished {
	records: readonly MeasuredRecord[];
	entries: readonly GroupEntry[];
}

/** Where a running session is kept. The store implements it; the session knows nothing else of the store. */
export interface Sink {
	/**
	 * Resolves once the entries are on disk; rejects if they could not be written (nothing of them is), with
	 * `JournalGone` where what came before them has vanished.
	 */
	append(entries: readonly JournalEntry[]): Promise<void>;
	/** Replaces the journal by the records, and by entries of the day for whoever has none; in one transaction. */
	finish(records: readonly MeasuredRecord[], entries?: readonly GroupEntry[]): Promise<void>;
	/** Removes the journal; nothing of the session stays. */
	discard(): Promise<void>;
}

/** The same for a session that was left unfinished, of which more may lie there than is known here. */
export interface UnfinishedSink extends Sink {
	/** Replaces the journal by what is made of what lies there, in one transaction. */
	finishAs(build: (entries: readonly JournalEntry[]) => Finished): Promise<void>;
}
