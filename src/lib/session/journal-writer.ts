import type { Clock } from '$lib/time/clock';
import { answerWithinMs, JournalGone, StoreSilent, type JournalEntry, type Sink } from '$lib/record/journal';

// What arrives is on disk a second later at the latest: the half that is left is the disk's own, because a machine at
// work with something else has been seen to take most of it.
const writeEveryMs = 500;
/** A store that refuses is asked ever less often: each try carries all that is unwritten. */
const longestRetryMs = 30_000;

interface WriterParts {
	sink: Pick<Sink, 'append'>;
	/** Real time, even where the session's clock is not. */
	clock: Clock;
	/** All that was ever pushed, for a journal that has to be written anew. */
	everything: () => JournalEntry[];
	/** Called where `problem` is another than before: writing fails, takes too long, or works again. */
	onProblem: () => void;
}

/**
 * Writes entries to a sink within a second; a sink that fails is tried again with all that is unwritten. One that does
 * not answer is waited for: a second try beside the first could write everything twice.
 */
export class JournalWriter {
	#unwritten: JournalEntry[] = [];
	#isWriting = false;
	#lastWriteMs = -Infinity;
	#failures = 0;
	#cancelWrite: (() => void) | undefined;
	#ended = false;
	#problem: unknown;

	constructor(private readonly parts: WriterParts) {}

	/** Why the last attempt to write failed, or `StoreSilent` while it goes unanswered; undefined while writing works. */
	get problem(): unknown {
		return this.#problem;
	}

	push(entry: JournalEntry): void {
		this.#unwritten.push(entry);
		this.#writeSoon();
	}

	/** Begins no further write. */
	stop(): void {
		this.#ended = true;
		this.#cancelWrite?.();
	}

	#writeSoon(): void {
		const { clock } = this.parts;
		const dueMs = this.#lastWriteMs + Math.min(longestRetryMs, writeEveryMs * 2 ** this.#failures);
		// A packet that finds the second gone writes at once: timers of a hidden page may come a minute late.
		if (clock.nowMs() >= dueMs) void this.#write();
		else if (!this.#cancelWrite) this.#cancelWrite = clock.wakeAt(dueMs, () => void this.#write());
	}

	async #write(): Promise<void> {
		this.#cancelWrite?.();
		this.#cancelWrite = undefined;
		if (this.#isWriting || this.#ended || this.#unwritten.length === 0) return;
		this.#isWriting = true;
		this.#lastWriteMs = this.parts.clock.nowMs();
		const entries = this.#unwritten;
		this.#unwritten = [];
		const { clock, sink } = this.parts;
		const askedMs = this.#lastWriteMs;
		const stopWaiting = clock.wakeAt(askedMs + answerWithinMs, () => this.#doubt(askedMs));
		let problem: unknown;
		try {
			await sink.append(entries);
			this.#failures = 0;
		} catch (error) {
			if (error instanceof JournalGone) {
				// Once the browser has cleared the journal, memory is the only place that still has it whole.
				this.#unwritten = this.parts.everything();
				// The store answers, but nothing is written yet.
				this.#failures = 0;
				problem = this.#problem;
			} else {
				this.#unwritten = [...entries, ...this.#unwritten];
				this.#failures++;
				problem = error;
			}
		}
		stopWaiting();
		this.#isWriting = false;
		if (this.#unwritten.length > 0) this.#writeSoon();
		this.#become(problem);
	}

	#doubt(askedMs: number): void {
		// Where the page itself stood still the answer may lie there unheard: it comes first.
		setTimeout(() => {
			if (this.#isWriting && this.#lastWriteMs === askedMs) this.#become(new StoreSilent());
		});
	}

	#become(problem: unknown): void {
		if (problem === this.#problem) return;
		this.#problem = problem;
		this.parts.onProblem();
	}
}
