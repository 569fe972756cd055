import { promisifyRequest } from 'idb-keyval';
import { keysUnder, read, stalePrefix, under, valueAt, write, type UseStore } from './database';
import { editOf, type Corrections } from './edits';
import { listed } from './sessions';
import { methodsVersion } from '$lib/record/summary';
import { keptTraining, type KeptTraining } from '$lib/review/training';

/**
 * What lists by day need of the kept sessions, in order of time, so that a day or a month is read without the others. A cache
 * in the same database: whatever writes a session marks it stale in the same transaction (`write` in database.ts), and what
 * is stale is looked up once more before it is read. Rows made by other methods or by an older form of them go.
 */
const rowsName = 'here-training-';
const rowForm = 1;
const rowPrefix = `${rowsName}${methodsVersion}-${rowForm}/`;

/** `startedAt` is ISO 8601 in UTC, whose order is that of time. A session that counts for nobody has an empty row. */
const rowKey = (startedAt: string, id: string) => `${rowPrefix}${startedAt}/${id}`;

/** The trainings with a strap that began from one moment to another, the second excluded, oldest first. Rejects with `StoreError`. */
export async function readTrainings(store: UseStore, from: Date, until: Date): Promise<KeptTraining[]> {
	await mendTrainings(store);
	const rows = await read(store, (objects) =>
		promisifyRequest<(KeptTraining | null)[]>(
			objects.getAll(
				IDBKeyRange.bound(rowKey(from.toISOString(), ''), rowKey(until.toISOString(), ''), false, true)
			)
		)
	);
	return rows.filter((row) => row !== null);
}

/** Sessions looked up in one transaction: more would keep a running session waiting for the store. */
const atATime = 100;

/**
 * Looks up what is stale, and what has no row, as at the first time. Nothing is left of what was deleted for good. Rejects with
 * `StoreError`.
 */
export async function mendTrainings(store: UseStore): Promise<void> {
	const { stale, heads, rows } = await stateOf(store);
	if (stale.length === 0 && heads === rows) return;
	const ids = new Set(stale);
	if (heads !== rows) for (const id of await withoutRow(store)) ids.add(id);
	const all = [...ids];
	for (let from = 0; from < all.length; from += atATime)
		await write(store, (objects) => mendThese(objects, all.slice(from, from + atATime)));
}

/** The same, where anything was ever looked up: a first time waits until somebody wants to see it. */
export async function mendMadeTrainings(store: UseStore): Promise<void> {
	const { stale, rows } = await stateOf(store);
	if (rows > 0 && stale.length > 0) await mendTrainings(store);
}

function stateOf(store: UseStore) {
	return read(store, async (objects) => {
		const [stale, heads, rows] = await Promise.all([
			keysUnder(objects, stalePrefix),
			promisifyRequest(objects.count(under('head/'))),
			promisifyRequest(objects.count(under(rowPrefix)))
		]);
		return { stale: stale.map((key) => key.slice(stalePrefix.length)), heads, rows };
	});
}

/** Sessions without a row. Rows that nothing stands behind go. */
function withoutRow(store: UseStore): Promise<string[]> {
	return write(store, async (objects) => {
		const [heads, rows] = await Promise.all([keysUnder(objects, 'head/'), keysUnder(objects, rowsName)]);
		const missing = new Set(heads.map((key) => key.slice('head/'.length)));
		// The row without a moment, from before a session was made whole, comes last and goes.
		for (const key of rows.toReversed()) {
			const id = key.split('/')[2] ?? '';
			if (!key.startsWith(rowPrefix) || !missing.delete(id)) objects.delete(key);
		}
		return [...missing];
	});
}

async function mendThese(objects: IDBObjectStore, ids: readonly string[]): Promise<void> {
	const lost = new Set<string>();
	await Promise.all(
		ids.map(async (id) => {
			const [stored, corrections, tombstone] = await Promise.all([
				valueAt(objects, `head/${id}`),
				editOf(objects, id),
				valueAt(objects, `tombstone/${id}`)
			]);
			if (stored === undefined) lost.add(id);
			else putRow(objects, id, stored, corrections, tombstone !== undefined);
			objects.delete(stalePrefix + id);
		})
	);
	if (lost.size === 0) return;
	for (const key of await keysUnder(objects, rowPrefix))
		if (lost.has(key.split('/')[2] ?? '')) objects.delete(key);
}

/** A head that cannot be read has a row, too, without a moment: the rows are as many as the heads. */
function putRow(
	objects: IDBObjectStore,
	id: string,
	stored: unknown,
	corrections: Corrections,
	isDeleted: boolean
): void {
	const { session } = listed(id, stored, corrections);
	const training = session && !isDeleted ? keptTraining(session) : undefined;
	objects.put(training ?? null, rowKey(session?.head.startedAt ?? '', id));
}
