import { createStore, promisifyRequest, type UseStore } from 'idb-keyval';
import { Cancelled } from './breathe';
import { noting, tellKept } from './kept-changes';
import { check } from '$lib/record/check';
import type { GenericSchema } from 'valibot';

export type { UseStore };

/**
 * Why something could not be kept or read. The screen does, by code:
 * - `full`: the disk or the page's share of it is full; go on in memory, offer an export at once.
 * - `blocked`: this browser gives the page no storage (a private window, a setting); go on in memory, say so.
 * - `elsewhere`: another tab has gone on with the session; say so, offer an export.
 * - `failed`: anything else; go on in memory, offer to try again and to export.
 */
export type StoreErrorCode = 'full' | 'blocked' | 'elsewhere' | 'failed';

export class StoreError extends Error {
	override readonly name = 'StoreError';
	constructor(
		readonly code: StoreErrorCode,
		message: string = code,
		options?: ErrorOptions
	) {
		super(message, options);
	}
}

/** An entry that lies in the store but cannot be read; it stays where it is. */
export interface Unreadable {
	key: string;
	/** A plain sentence. */
	problem: string;
}

/**
 * The page's one database. Nothing is opened before the first use, which fails with `StoreError` where there
 * is no storage. The keys:
 *
 *     journal/<session>/<chunk>   entries of a session that is not finished
 *     head/<record>               { head, summary? }
 *     body/<record>               the columns
 *     edit/<record>/<at>          a later correction
 *     tombstone/<record>          { deletedAtMs }: deleted, and still there until it is purged
 *     athlete/<id>                the card
 *     card-state/<id>             who said what of it when: see record/registers.ts
 *     plan/<id>, setting/<name>
 *     plan-state/<id>             who said what of a plan when: see record/own-plan.ts
 *     day/<athlete>/<date>        what was trained that day: see record/day.ts
 *     stamp/<key>                 when a plan, a setting, a weight or food was entered
 *     folder/…, shared/…           the shared folder: see folder/state.ts
 *     here-training…, here-stale…  what lists by day need of sessions: see trainings.ts
 */
export function openDatabase(): UseStore {
	return createStore('corner-minute', 'entries');
}

/** Reads in one transaction, so that what is read belongs together. Rejects with `StoreError`. */
export async function read<T>(
	store: UseStore,
	work: (objects: IDBObjectStore) => T | PromiseLike<T>
): Promise<T> {
	try {
		return await store('readonly', work);
	} catch (error) {
		throw asStoreError(error);
	}
}

/**
 * Writes in one transaction: all of it or nothing. Resolves with what `work` answered once the transaction
 * has completed. Rejects with `StoreError`. `work` may await nothing but requests of this transaction.
 *
 * @param durability `strict`: it has not completed before all that was written up to now lies on the disk itself
 */
export async function write<T>(
	store: UseStore,
	work: (objects: IDBObjectStore) => T | PromiseLike<T>,
	durability?: 'strict'
): Promise<T> {
	const keys = new Set<string>();
	try {
		const answer = await store('readwrite', async (opened) => {
			// idb-keyval opens a transaction without a say in that; through it comes one that has it.
			const { name, transaction } = opened;
			const objects = durability
				? transaction.db.transaction(name, 'readwrite', { durability }).objectStore(name)
				: opened;
			const completed = completion(objects.transaction);
			try {
				const answer = await work(noting(objects, keys));
				markStale(objects, keys);
				await completed;
				return answer;
			} catch (error) {
				// Without this, what was put before the throw would be committed.
				abort(objects.transaction);
				await completed.catch(() => undefined);
				// The transaction's own error says why; a request waited for says only that it was cut off.
				throw objects.transaction.error ?? error;
			}
		});
		tellKept(store, keys);
		return answer;
	} catch (error) {
		throw asStoreError(error);
	}
}

/** Sessions that were written since what lists by day need of them was last looked up, whoever wrote them. */
export const stalePrefix = 'here-stale/';

function markStale(objects: IDBObjectStore, keys: ReadonlySet<string>): void {
	for (const key of keys) {
		const [kind = '', id = ''] = key.split('/');
		if (['head', 'edit', 'tombstone'].includes(kind)) objects.put(true, stalePrefix + id);
	}
}

// Not idb-keyval's promisifyRequest: it settles at the error event, which bubbles up before the transaction
// knows its own error, and so would lose whether the disk was full.
function completion(transaction: IDBTransaction): Promise<void> {
	const completed = new Promise<void>((resolve, reject) => {
		transaction.oncomplete = () => resolve();
		transaction.onabort = () => reject(transaction.error);
	});
	completed.catch(() => undefined);
	return completed;
}

function abort(transaction: IDBTransaction): void {
	try {
		transaction.abort();
	} catch {
		// It was over already.
	}
}

/** The value at a key, unchecked; undefined where there is none. */
export function valueAt(objects: IDBObjectStore, key: string): Promise<unknown> {
	return promisifyRequest<unknown>(objects.get(key));
}

/** The keys that begin with a prefix, in order. */
export async function keysUnder(objects: IDBObjectStore, prefix: string): Promise<string[]> {
	return (await promisifyRequest(objects.getAllKeys(under(prefix)))).map(String);
}

/** Keys and unchecked values of what begins with a prefix, in order of the keys. */
export function entriesUnder(objects: IDBObjectStore, prefix: string): Promise<[string, unknown][]> {
	return entriesIn(objects, under(prefix));
}

/** Indexed Database API 3.0, which not every browser has yet: keys and values in one answer. */
interface WithRecords {
	getAllRecords?: (options: { query: IDBKeyRange }) => IDBRequest<{ key: IDBValidKey; value: unknown }[]>;
}

/** The same of a range of keys. */
export async function entriesIn(
	objects: IDBObjectStore & WithRecords,
	range: IDBKeyRange
): Promise<[string, unknown][]> {
	const asked = objects.getAllRecords?.({ query: range });
	if (asked) return (await promisifyRequest(asked)).map(({ key, value }) => [String(key), value]);
	const [keys, values] = await Promise.all([
		promisifyRequest(objects.getAllKeys(range)),
		promisifyRequest<unknown[]>(objects.getAll(range))
	]);
	return keys.map((key, i) => [String(key), values[i]]);
}

/** The range of all keys that begin with a prefix. */
export function under(prefix: string): IDBKeyRange {
	return IDBKeyRange.bound(prefix, `${prefix}\uffff`);
}

/**
 * What may be stored of a value: a plain copy that is sure to be readable later. Throws `StoreError` with the
 * sentence that reading would give where there is none.
 */
export function storable<T>(schema: GenericSchema<unknown, T>, value: T, what: string): T {
	const checked = check(schema, value);
	if (checked.problem === undefined) return checked.value;
	throw new StoreError('failed', `${what} was not stored. ${checked.problem}`);
}

export function isObject(value: unknown): value is Record<string, unknown> {
	return typeof value === 'object' && value !== null;
}

function asStoreError(error: unknown): StoreError | Cancelled {
	if (error instanceof StoreError || error instanceof Cancelled) return error;
	const name = error instanceof Error ? error.name : '';
	const code =
		name === 'QuotaExceededError'
			? 'full'
			: name === 'SecurityError' || !globalThis.indexedDB
				? 'blocked'
				: 'failed';
	return new StoreError(code, code, { cause: error });
}
