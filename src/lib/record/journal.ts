import type { AthleteSnapshot, CornerEvent, SessionRecord, StrapChange } from './record';
import type { Summary } from './summary';
import type { Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';

/** An athlete and the strap they begin with. */
export interface Entrant {
	recordId: string;
	athlete: AthleteSnapshot;
	strapName: string;
	practice: boolean;
}

/** The first entry of a journal: all that is known when Start is pressed. */
export interface SessionStart {
	sessionId: string;
	/** ISO 8601 in UTC; the only wall-clock time of a session. */
	startedAt: string;
	zone: string;
	plan: Plan;
	/** Who is there at Start; entries name a corner by its place in this list, or by the one it joined with. */
	corners: Entrant[];
}

/** A reading in a journal: one packet of one corner, at `ms` of elapsed time. */
export interface ReadingEntry {
	kind: 'reading';
	corner: number;
	ms: number;
	bpm: number;
	contact: 'not supported' | 'no contact' | 'contact';
	energyKJ?: number;
	rrMs: number[];
}

/** What is appended to the journal while a session runs, in the order in which it happened. */
export type JournalEntry =
	| { kind: 'start'; start: SessionStart }
	| ReadingEntry
	| { kind: 'amendment'; amendment: Amendment }
	| { kind: 'event'; corner: number; event: CornerEvent }
	| { kind: 'join'; corner: number; ms: number; entrant: Entrant }
	| { kind: 'leave'; corner: number; ms: number }
	| { kind: 'strap'; corner: number; change: StrapChange };

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

/** Where a running session is kept. The store implements it; the session knows nothing else of the store. */
export interface Sink {
	/**
	 * Resolves once the entries are on disk; rejects if they could not be written (nothing of them is), with
	 * `JournalGone` where what came before them has vanished.
	 */
	append(entries: readonly JournalEntry[]): Promise<void>;
	/** Replaces the journal by the records, in one transaction. */
	finish(records: readonly MeasuredRecord[]): Promise<void>;
	/** Removes the journal; nothing of the session stays. */
	discard(): Promise<void>;
}

/** The same for a session that was left unfinished, of which more may lie there than is known here. */
export interface UnfinishedSink extends Sink {
	/** Replaces the journal by the records that are made of what lies there, in one transaction. */
	finishAs(build: (entries: readonly JournalEntry[]) => readonly MeasuredRecord[]): Promise<void>;
}
