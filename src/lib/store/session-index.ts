import { createStore, promisifyRequest } from 'idb-keyval';
import { keysUnder, read, valueAt, write } from './database';
import { originOf, readListed, reassignedSessions, type ListedSession } from './sessions';
import type { Unreadable, UseStore } from './database';

/**
 * When each kept session began and whose it is, by its id: what a list needs to know which are the newest, and
 * progress which are one athlete's, without reading them all. A cache, in a database of its own, that mends itself: the heads alone say which sessions there are, and
 * one that is not in here yet is looked up once. Whoever writes, restores or backs up sessions need not know of it.
 */
export function openSessionIndex(): UseStore {
	return createStore('corner-minute-index', 'origins');
}

type Origin = { startedAt: string; athleteId: string };

/** The ids of all kept sessions, newest first, and what of them cannot be read. Deleted ones are left out. */
export interface SessionOrder {
	ids: string[];
	/** Whose each was on its day. */
	athleteIdOf: (id: string) => string | undefined;
	unreadable: Unreadable[];
}

/**
 * Which sessions there are, newest first. Reads keys, and the heads of those sessions alone that the index does
 * not know yet. Rejects with `StoreError`.
 */
export async function orderOfSessions(store: UseStore, index: UseStore): Promise<SessionOrder> {
	const [kept, deleted] = await read(store, (objects) =>
		Promise.all([idsUnder(objects, 'head/'), idsUnder(objects, 'tombstone/')])
	);
	const known = await read(index, async (objects) => {
		const [ids, begun] = await Promise.all([
			promisifyRequest(objects.getAllKeys()),
			promisifyRequest<unknown[]>(objects.getAll())
		]);
		return new Map(ids.map((id, i) => [String(id), begun[i] as Origin]));
	});
	const isKept = new Set(kept);
	const gone = [...known.keys()].filter((id) => !isKept.has(id));
	const { found, unreadable } = await lookUp(
		store,
		kept.filter((id) => !known.has(id))
	);
	if (gone.length > 0 || found.size > 0) {
		await write(index, (objects) => {
			for (const id of gone) objects.delete(id);
			for (const [id, origin] of found) objects.put(origin, id);
		});
	}
	const isDeleted = new Set(deleted);
	const originOfId = (id: string) => known.get(id) ?? found.get(id);
	const begun = (id: string) => originOfId(id)?.startedAt;
	const ids = kept
		.filter((id) => begun(id) !== undefined && !isDeleted.has(id))
		// Both texts are ISO 8601 in UTC, whose order is that of time.
		.sort((a, b) => (begun(a)! < begun(b)! ? 1 : -1));
	return {
		ids,
		athleteIdOf: (id) => originOfId(id)?.athleteId,
		unreadable: unreadable.filter(({ key }) => !isDeleted.has(key.slice('head/'.length)))
	};
}

/** These sessions as a list shows them, in the order of the ids. Rejects with `StoreError`. */
export async function listedSessions(
	store: UseStore,
	ids: readonly string[]
): Promise<{ sessions: ListedSession[]; unreadable: Unreadable[] }> {
	const listed = await readListed(store, ids);
	return {
		sessions: listed.flatMap(({ session }) => session ?? []),
		unreadable: listed.flatMap(({ unreadable }) => unreadable)
	};
}

/** Which of these sessions are one athlete's, those that a correction has given them among them. Rejects with `StoreError`. */
export async function idsOfAthlete(
	store: UseStore,
	{ ids, athleteIdOf }: Pick<SessionOrder, 'ids' | 'athleteIdOf'>,
	athleteId: string
): Promise<string[]> {
	const owners = await reassignedSessions(store);
	return ids.filter((id) => (owners.get(id) ?? athleteIdOf(id)) === athleteId);
}

/** All sessions of one athlete. Rejects with `StoreError`. */
export async function sessionsOfAthlete(
	store: UseStore,
	index: UseStore,
	athleteId: string
): Promise<ListedSession[]> {
	const own = await idsOfAthlete(store, await orderOfSessions(store, index), athleteId);
	return (await listedSessions(store, own)).sessions;
}

/**
 * Those who are known from their sessions alone, with the name noted in the newest of them. Reads one head for
 * each. Rejects with `StoreError`.
 */
export async function athletesWithoutCard(
	store: UseStore,
	{ ids, athleteIdOf }: Pick<SessionOrder, 'ids' | 'athleteIdOf'>,
	cards: readonly { id: string }[]
): Promise<{ id: string; name: string }[]> {
	const known = new Set<string | undefined>(cards.map(({ id }) => id));
	const newest = ids.filter((id) => {
		const isNew = !known.has(athleteIdOf(id));
		known.add(athleteIdOf(id));
		return isNew;
	});
	const { sessions } = await listedSessions(store, newest);
	return sessions.map(({ head: { athlete } }) => ({ id: athlete.athleteId, name: athlete.name }));
}

async function idsUnder(objects: IDBObjectStore, prefix: string): Promise<string[]> {
	return (await keysUnder(objects, prefix)).map((key) => key.slice(prefix.length));
}

const fewAtATime = 200;

async function lookUp(store: UseStore, ids: readonly string[]) {
	const found = new Map<string, Origin>();
	const unreadable: Unreadable[] = [];
	for (let from = 0; from < ids.length; from += fewAtATime) {
		const some = ids.slice(from, from + fewAtATime);
		const heads = await read(store, (objects) =>
			Promise.all(some.map((id) => valueAt(objects, `head/${id}`)))
		);
		for (const [i, stored] of heads.entries()) {
			const { value, problem } = originOf(stored);
			if (value !== undefined) found.set(some[i]!, value);
			else if (stored !== undefined) unreadable.push({ key: `head/${some[i]!}`, problem });
		}
	}
	return { found, unreadable };
}
