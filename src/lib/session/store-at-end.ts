import { within } from '$lib/gatt/limited-wait';
import {
	answerWithinMs,
	StoreSilent,
	type GroupEntry,
	type MeasuredRecord,
	type Sink
} from '$lib/record/journal';
import type { Clock } from '$lib/time/clock';

/** What became of a session; see `StoreAtEnd`. */
export interface Ended {
	records: MeasuredRecord[];
	problem?: unknown;
	later?: Promise<unknown>;
}

/**
 * Hands the records of a session that has ended to the store. Where it refuses, the answer holds them with the problem
 * beside them, so that nothing is lost; asked again, it tries again. Of a store that does not answer, `later` says what
 * came of it in the end: undefined, or a problem.
 */
export class StoreAtEnd {
	/** What the store was asked and has not answered. */
	#asked: Promise<unknown> | undefined;

	/** @param clock real time */
	constructor(
		private readonly sink: Pick<Sink, 'finish'>,
		private readonly clock: Clock
	) {}

	async keep(records: MeasuredRecord[], entries: readonly GroupEntry[]): Promise<Ended> {
		// What is still unanswered is waited for: a second try beside the first could only find its records there.
		this.#asked ??= this.#ask(records, entries);
		const later = this.#asked;
		const { signal } = new AbortController();
		try {
			const problem = await within(this.clock, answerWithinMs, signal, later);
			return problem === undefined ? { records } : { records, problem };
		} catch {
			return { records, problem: new StoreSilent(), later };
		}
	}

	/** Answers why it could not be stored; nothing where it was. */
	async #ask(records: readonly MeasuredRecord[], entries: readonly GroupEntry[]): Promise<unknown> {
		try {
			await this.sink.finish(records, entries);
			return undefined;
		} catch (problem) {
			return problem;
		} finally {
			this.#asked = undefined;
		}
	}
}
