import type { UseStore } from '$lib/store/database';

/** What a store's caller does with it, and the transactions that it opens by itself meanwhile: whoever asks for durability does. */
function madeBy<T>(work: () => T, each: (made: IDBTransaction) => void): T {
	const { transaction } = IDBDatabase.prototype;
	IDBDatabase.prototype.transaction = function (...given) {
		const made = transaction.apply(this, given);
		each(made);
		return made;
	};
	try {
		return work();
	} finally {
		IDBDatabase.prototype.transaction = transaction;
	}
}

/**
 * The store as it is, but every write transaction is ended from outside once its requests are made: with the
 * error a full disk gives, or with none, as when the browser is killed.
 */
export function abortingStore(store: UseStore, error: 'QuotaExceededError' | null): UseStore {
	return (mode, work) =>
		store(mode, (objects) => {
			let last = objects.transaction;
			const answer = madeBy(
				() => work(objects),
				(made) => (last = made)
			);
			// fake-indexeddb's own way to abort with an error; browsers do it when they find the disk full.
			const transaction = last as IDBTransaction & { _abort(name: string | null): void };
			if (mode === 'readwrite') queueMicrotask(() => transaction._abort(error));
			return answer;
		});
}

export interface StoreRequest {
	method: string;
	/** The key or the lower end of the key range. */
	key: string;
	durability: IDBTransactionDurability;
}

/** The store as it is, with a list of every request that was made. */
export function watchedStore(store: UseStore): { store: UseStore; requests: StoreRequest[] } {
	const requests: StoreRequest[] = [];
	const watch = (objects: IDBObjectStore) =>
		new Proxy(objects, {
			get(target, name) {
				const member: unknown = Reflect.get(target, name, target);
				if (typeof member !== 'function') return member;
				return (...args: unknown[]) => {
					const { durability } = target.transaction;
					requests.push({ method: String(name), key: keyOf(String(name), args), durability });
					return Reflect.apply(member, target, args) as unknown;
				};
			}
		});
	const watched: UseStore = (mode, work) =>
		store(mode, (objects) =>
			madeBy(
				() => work(watch(objects)),
				(made) => {
					const opened = made.objectStore.bind(made);
					made.objectStore = (name) => watch(opened(name));
				}
			)
		);
	return { store: watched, requests };
}

function keyOf(method: string, args: readonly unknown[]): string {
	const given = method === 'put' || method === 'add' ? args[1] : args[0];
	const query = method === 'getAllRecords' ? (given as { query: unknown }).query : given;
	return String(query instanceof IDBKeyRange ? query.lower : query);
}
