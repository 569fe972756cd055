import type { SessionRecord } from '$lib/record/body';
import type { Recorder } from './recorder';

/** A session that has ended, until it is kept or left. */
export class Keeping {
	#stage = $state<'saving' | 'kept' | 'not kept'>('saving');
	#records = $state.raw<readonly SessionRecord[]>([]);
	#problem = $state.raw<unknown>();
	/** What the store has not answered yet. */
	#unanswered: Promise<unknown> | undefined;

	/**
	 * @param endedMs elapsed
	 * @param onKept until then no other tab may go on with what of it lies in the store
	 */
	constructor(
		private readonly recorder: Recorder,
		private readonly endedMs: number,
		private readonly onKept: () => void
	) {}

	get stage() {
		return this.#stage;
	}
	/** What the session became; they stay in hand where the store refuses them. */
	get records(): readonly SessionRecord[] {
		return this.#records;
	}
	/** Why they could not be stored. */
	get problem(): unknown {
		return this.#problem;
	}

	/** Asks the store to keep them, be it once more. */
	async keep(): Promise<void> {
		this.#stage = 'saving';
		const { records, problem, later } = await this.recorder.end(this.endedMs);
		this.#records = records;
		this.#unanswered = later;
		this.#settle(problem);
		void later?.then((outcome) => this.#settle(outcome));
	}

	/** Resolves once the store has answered all it was asked: a late answer would take the journal from under others. */
	async answered(): Promise<void> {
		await this.#unanswered;
	}

	#settle(problem: unknown): void {
		if (problem === undefined) this.onKept();
		this.#problem = problem;
		this.#stage = problem === undefined ? 'kept' : 'not kept';
	}
}
