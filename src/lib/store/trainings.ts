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
/** Says by which form and methods every session has a row. */
const madeKey = 'here-trainings';
const rowPrefix = `${rowsName}${methodsVersion}-${rowForm}/`;

/** `startedAt` is ISO 8601 in UTC, whose order is that of time. A session that counts for nobody has an empty row. */
const rowKey = (startedAt: string, id: string) => `${rowPrefix}${startedAt}/${id}`;

/** The trainings with a strap that began from one moment to another, the second excluded, oldest first. Rejects with `StoreError`. */
export async function readTrainings(store: UseStore, from: Date, until: Date): Promise<KeptTraining[]> {
	const range = IDBKeyRange.bound(
		rowKey(from.toISOString(), ''),
		rowKey(until.toISOString(), ''),
		false,
		true
	);
	// Mostly nothing is stale, so the rows are asked for together with that.
	const look = () =>
		read(store, async (objects) => {
			const [state, rows] = await Promise.all([
				stateIn(objects),
				promisifyRequest<(KeptTraining | null)[]>(objects.getAll(range))
			]);
			return { state, rows: rows.filter((row) => row !== null) };
		});
	const { state, rows } = await look();
	if (state.isMade && state.stale.length === 0) return rows;
	await mend(store, state);
	return (await look()).rows;
}

/** Stores whose rows were counted in this page's life. */
const checked = new WeakSet<UseStore>();

/** Sessions looked up in one transaction: more would keep a running session waiting for the store. */
const atATime = 100;
/** The same where nobody waits for them: every screen that reads meanwhile waits for one such transaction. */
const behindOthers = 20;

/**
 * Looks up what is stale; the first time everything. Counting thousands of sessions takes long, so whether each has its row is
 * asked apart (`checkTrainings`). Rejects with `StoreError`.
 */
export async function mendTrainings(store: UseStore): Promise<void> {
	await mend(store, await read(store, stateIn));
}

/** The same, where anything was ever looked up: a first time waits until somebody wants to see it. */
export async function mendMadeTrainings(store: UseStore): Promise<void> {
	const state = await read(store, stateIn);
	if (state.isMade) await mend(store, state);
}

/**
 * Makes the rows whole where they are not as many as the sessions: a window with an older version of this page writes sessions
 * and marks none. Once in a page's life. Answers whether they were not. Rejects with `StoreError`.
 */
export async function checkTrainings(store: UseStore): Promise<boolean> {
	if (checked.has(store)) return false;
	checked.add(store);
	await mendTrainings(store);
	const [heads, rows] = await read(store, (objects) =>
		Promise.all(['head/', rowPrefix].map((prefix) => promisifyRequest(objects.count(under(prefix)))))
	);
	if (heads === rows) return false;
	await makeRows(store, behindOthers);
	return true;
}

interface State {
	/** Ids of sessions that were written since they were looked up. */
	stale: string[];
	/** Every session has had a row. */
	isMade: boolean;
}

async function stateIn(objects: IDBObjectStore): Promise<State> {
	const [stale, made] = await Promise.all([keysUnder(objects, stalePrefix), valueAt(objects, madeKey)]);
	return { stale: stale.map((key) => key.slice(stalePrefix.length)), isMade: made === rowPrefix };
}

function mend(store: UseStore, { stale, isMade }: State): Promise<void> {
	return isMade ? mendAll(store, stale) : makeRows(store);
}

async function makeRows(store: UseStore, count = atATime): Promise<void> {
	const { stale } = await read(store, stateIn);
	await mendAll(store, [...new Set([...stale, ...(await withoutRow(store))])], count);
	await write(store, (objects) => void objects.put(rowPrefix, madeKey));
}

async function mendAll(store: UseStore, ids: readonly string[], count = atATime): Promise<void> {
	for (let from = 0; from < ids.length; from += count)
		await write(store, (objects) => mendThese(objects, ids.slice(from, from + count)));
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
