import { promisifyRequest } from 'idb-keyval';
import { read, type UseStore } from './database';
import { answerWithinMs } from '$lib/record/journal';

/**
 * Whether the store answers at all. Whatever somebody enters waits for it without a word, and a question of its own, asked
 * behind that, waits along.
 */
export class StoreSilence {
	#isSilent = $state(false);
	#isAsking = false;

	constructor(private readonly store: UseStore) {}

	/** It has been asked and has not answered for so long that somebody should know. */
	get isSilent(): boolean {
		return this.#isSilent;
	}

	/** Asks, unless an answer is still awaited. Never rejects: a refusal is an answer, and told by whoever wrote. */
	async ask(): Promise<void> {
		if (this.#isAsking) return;
		this.#isAsking = true;
		const doubt = setTimeout(() => (this.#isSilent = true), answerWithinMs);
		await read(this.store, (objects) => promisifyRequest(objects.count(''))).catch(() => undefined);
		clearTimeout(doubt);
		this.#isAsking = this.#isSilent = false;
	}
}
