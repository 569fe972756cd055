/** Whoever asked to be told, in the order they asked. One that fails keeps nobody else from being told. */
export class Listeners<T extends unknown[]> {
	readonly #listeners = new Set<{ call: (...args: T) => void }>();

	/** The answer unsubscribes. The same function may listen twice. */
	add(listener: (...args: T) => void): () => void {
		const entry = { call: listener };
		this.#listeners.add(entry);
		return () => void this.#listeners.delete(entry);
	}

	tell(...args: T): void {
		for (const { call } of this.#listeners) {
			try {
				call(...args);
			} catch (error) {
				// A failure in the page must not look like a failure of the strap: it goes to the page's error event.
				queueMicrotask(() => {
					throw error;
				});
			}
		}
	}

	clear(): void {
		this.#listeners.clear();
	}
}
