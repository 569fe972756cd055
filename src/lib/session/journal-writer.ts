import type { Clock } from '$lib/time/clock';
import { JournalGone, type JournalEntry, type Sink } from './journal';

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
	/** Called where `problem` is another than before: writing fails, or works again. */
	onProblem: () => void;
}

/** Writes entries to a sink within a second; a sink that fails is tried again with all that is unwritten. */
export class JournalWriter {
	#unwritten: JournalEntry[] = [];
	#isWriting = false;
	#lastWriteMs = -Infinity;
	#failures = 0;
	#cancelWrite: (() => void) | undefined;
	#ended = false;
	/** Why the last attempt to write failed; undefined while writing works. */
	problem: unknown;

	constructor(private readonly parts: WriterParts) {}

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
		const { problem: before } = this;
		this.#unwritten = [];
		try {
			await this.parts.sink.append(entries);
			this.#failures = 0;
			this.problem = undefined;
		} catch (problem) {
			// Once the browser has cleared the journal, memory is the only place that still has it whole.
			if (problem instanceof JournalGone) this.#unwritten = this.parts.everything();
			else {
				this.#unwritten = [...entries, ...this.#unwritten];
				this.#failures++;
				this.problem = problem;
			}
		}
		this.#isWriting = false;
		if (this.#unwritten.length > 0) this.#writeSoon();
		if (this.problem !== before) this.parts.onProblem();
	}
}
