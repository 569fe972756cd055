import type { Clock } from '$lib/time/clock';
import type { JournalEntry, Sink } from './journal';

const writeEveryMs = 1000;

/** Writes entries to a sink at most once a second; a sink that fails is tried again with all that is unwritten. */
export class JournalWriter {
	#unwritten: JournalEntry[] = [];
	#isWriting = false;
	#lastWriteMs = -Infinity;
	#cancelWrite: (() => void) | undefined;
	#ended = false;
	/** Why the last attempt to write failed; undefined while writing works. */
	problem: unknown;

	/** @param clock real time, even where the session's clock is not */
	constructor(
		private readonly sink: Pick<Sink, 'append'>,
		private readonly clock: Clock,
		private readonly onWritten: () => void
	) {}

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
		const dueMs = this.#lastWriteMs + writeEveryMs;
		// A packet that finds the second gone writes at once: timers of a hidden page may come a minute late.
		if (this.clock.nowMs() >= dueMs) void this.#write();
		else if (!this.#cancelWrite) this.#cancelWrite = this.clock.wakeAt(dueMs, () => void this.#write());
	}

	async #write(): Promise<void> {
		this.#cancelWrite?.();
		this.#cancelWrite = undefined;
		if (this.#isWriting || this.#ended || this.#unwritten.length === 0) return;
		this.#isWriting = true;
		this.#lastWriteMs = this.clock.nowMs();
		const entries = this.#unwritten;
		this.#unwritten = [];
		try {
			await this.sink.append(entries);
			this.problem = undefined;
		} catch (problem) {
			this.#unwritten = [...entries, ...this.#unwritten];
			this.problem = problem;
		}
		this.#isWriting = false;
		if (this.#unwritten.length > 0) this.#writeSoon();
		this.onWritten();
	}
}
