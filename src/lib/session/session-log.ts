import { unstrapped } from '$lib/record/unstrapped';
import type { CornerSoFar } from '$lib/record/corner-so-far';
import type { JournalEntry, SessionStart, Sink } from '$lib/record/journal';
import { RecordBuilder } from '$lib/record/record-builder';
import type { SessionRecord } from '$lib/record/body';
import { measured } from '$lib/review/summary';
import type { Clock } from '$lib/time/clock';
import { JournalWriter } from './journal-writer';
import { LiveCorners, type Unfolding } from './live-corners';
import { StoreAtEnd, type Ended } from './store-at-end';

export interface LogParts {
	start: SessionStart;
	sink: Sink;
	/** Paces writing to the sink; real time even where the session's clock is not. */
	writeClock: Clock;
}

/**
 * What has happened in a session, entry by entry. Each goes the same way, whether it happens now or is read from an
 * unfinished journal: into the record being built, and onto the live corners; what happens now to the journal too.
 */
export class SessionLog {
	readonly live: LiveCorners;
	readonly #builder = new RecordBuilder();
	readonly #writer: JournalWriter;
	readonly #store: StoreAtEnd;

	/**
	 * @param session asked for its timeline and blocks as they are at that moment
	 * @param onProblem called where writing fails, or works again
	 */
	constructor(
		private readonly parts: LogParts,
		history: readonly JournalEntry[],
		session: Unfolding,
		onProblem: () => void
	) {
		const { start, sink, writeClock: clock } = parts;
		this.live = new LiveCorners(start.plan, this.#builder.corners, session);
		this.#writer = new JournalWriter({ sink, clock, everything: () => this.#builder.entries(), onProblem });
		this.#store = new StoreAtEnd(sink, clock);
		const first: JournalEntry = { kind: 'start', start };
		if (history.length === 0) this.note(first);
		else this.#take(first);
		for (const entry of history) this.#take(entry);
	}

	/** What is known of every corner besides its readings, by the number that entries name it by. */
	get corners(): ReadonlyMap<number, CornerSoFar> {
		return this.#builder.corners;
	}

	/** Why the last attempt to write failed; undefined while writing works. */
	get problem(): unknown {
		return this.#writer.problem;
	}

	/** Takes what happens now. The corners must have been brought to its moment, but for the corner of a reading. */
	note(entry: JournalEntry): void {
		this.#take(entry);
		this.#writer.push(entry);
	}

	/** The records of what has happened so far, one a corner, as if it ended at `endedMs`. */
	build(endedMs: number): SessionRecord[] {
		return this.#builder.build(endedMs);
	}

	/** Writes no more, and puts the records in the journal's place; see `StoreAtEnd`. */
	keep(endedMs: number): Promise<Ended> {
		this.#writer.stop();
		return this.#store.keep(
			this.build(endedMs).map(measured),
			unstrapped(this.#builder.start, this.corners, endedMs)
		);
	}

	/** Writes no more, and leaves nothing. */
	async discard(): Promise<void> {
		this.#writer.stop();
		await this.parts.sink.discard();
	}

	#take(entry: JournalEntry): void {
		this.#builder.push(entry);
		if (entry.kind !== 'hand over undone') return this.live.take(entry);
		// What the wrong heart was told was the right one's: both are told anew what was theirs.
		for (const corner of [entry.corner, entry.from])
			this.live.retell(corner, this.#builder.heardIn(corner), entry.ms);
	}
}
