import type { UseStore } from '$lib/store/database';

/**
 * The store as it is, but every write transaction is ended from outside once its requests are made: with the
 * error a full disk gives, or with none, as when the browser is killed.
 */
export function abortingStore(store: UseStore, error: 'QuotaExceededError' | null): UseStore {
	return (mode, work) =>
		store(mode, (objects) => {
			const answer = work(objects);
			// fake-indexeddb's own way to abort with an error; browsers do it when they find the disk full.
			const transaction = objects.transaction as IDBTransaction & { _abort(name: string | null): void };
			if (mode === 'readwrite') queueMicrotask(() => transaction._abort(error));
			return answer;
		});
}

export interface StoreRequest {
	method: string;
	/** The key or the lower end of the key range. */
	key: string;
}

/** The store as it is, with a list of every request that was made. */
export function watchedStore(store: UseStore): { store: UseStore; requests: StoreRequest[] } {
	const requests: StoreRequest[] = [];
	const watched: UseStore = (mode, work) =>
		store(mode, (objects) =>
			work(
				new Proxy(objects, {
					get(target, name) {
						const member: unknown = Reflect.get(target, name, target);
						if (typeof member !== 'function') return member;
						return (...args: unknown[]) => {
							requests.push({ method: String(name), key: keyOf(String(name), args) });
							return Reflect.apply(member, target, args) as unknown;
						};
					}
				})
			)
		);
	return { store: watched, requests };
}

function keyOf(method: string, args: readonly unknown[]): string {
	const given = method === 'put' || method === 'add' ? args[1] : args[0];
	const query = method === 'getAllRecords' ? (given as { query: unknown }).query : given;
	return String(query instanceof IDBKeyRange ? query.lower : query);
}
