import { createStore } from 'idb-keyval';
import { check, shape } from '$lib/record/check';
import * as v from 'valibot';
import { keysUnder, read, valueAt, write, type Unreadable, type UseStore } from './database';
import { eachUnder, fewAtATime } from './many-entries';
import { allEdits } from './edits';
import { onKept, touches } from './kept-changes';
import { originOf } from './session-parts';
import { readListed, type ListedSession } from './sessions';
import { ownerOf } from '$lib/record/put-right';

/**
 * When each kept session began and whose it is, by its id: what a list needs to know which are the newest, and
 * progress which are one athlete's, without reading them all. A cache, in a database of its own, that mends itself: the heads alone say which sessions there are, and
 * one that is not in here yet is looked up once. Whoever writes, restores or backs up sessions need not know of it.
 */
export function openSessionIndex(): UseStore {
	return createStore('corner-minute-index', 'origins');
}

/** All of the index lies in one entry: thousands of small ones take twenty times as long to be read. */
const indexKey = 'all';

/** One place a session in each column, newest first. */
type Origins = v.InferOutput<typeof originsSchema>;

const originsSchema = shape({
	ids: v.array(v.string()),
	/** Epoch milliseconds. */
	begunMs: v.instance(Float64Array),
	athleteIds: v.array(v.string())
});

interface Origin {
	id: string;
	begunMs: number;
	athleteId: string;
}

/** The ids of all kept sessions, newest first, and what of them cannot be read. Deleted ones are left out. */
export interface SessionOrder {
	ids: string[];
	/** Whose each was on its day. */
	athleteIdOf: (id: string) => string | undefined;
	/** When each began, epoch milliseconds. */
	begunMsOf: (id: string) => number | undefined;
	unreadable: Unreadable[];
}

interface Remembered {
	order?: SessionOrder;
	/** How often the sessions were written since. */
	writes: number;
}

const remembered = new WeakMap<UseStore, Remembered>();

function rememberedOf(store: UseStore): Remembered {
	const known = remembered.get(store);
	if (known) return known;
	const made: Remembered = { writes: 0 };
	remembered.set(store, made);
	onKept(store, (keys) => {
		if (!touches(keys, 'head', 'tombstone')) return;
		made.writes++;
		delete made.order;
	});
	return made;
}

/**
 * What `orderOfSessions` answered last in this page; absent once a session was written. A write that nobody told of shows in
 * the next reading alone, so whoever shows this reads the order behind it.
 */
export const lastOrder = (store: UseStore): SessionOrder | undefined => remembered.get(store)?.order;

/**
 * Which sessions there are, newest first. Reads keys, and the heads of those sessions alone that the index does
 * not know yet. Rejects with `StoreError` where the store does; the index may fail.
 */
export async function orderOfSessions(store: UseStore, index: UseStore): Promise<SessionOrder> {
	const memory = rememberedOf(store);
	const { writes } = memory;
	const [[kept, deleted], known] = await Promise.all([
		read(store, (objects) => Promise.all([idsUnder(objects, 'head/'), idsUnder(objects, 'tombstone/')])),
		readIndex(index).catch(() => [])
	]);
	const isKnown = new Set(known.map(({ id }) => id));
	const isKept = new Set(kept);
	const { found, unreadable } = await lookUp(
		store,
		kept.filter((id) => !isKnown.has(id)),
		kept.length
	);
	const stayed = known.filter(({ id }) => isKept.has(id));
	const isAsKnown = stayed.length === known.length && found.length === 0;
	const origins = isAsKnown ? known : [...stayed, ...found].sort((a, b) => b.begunMs - a.begunMs);
	// A cache that a full disk refuses costs time alone: the sessions can be read, so they are listed.
	if (!isAsKnown) await writeIndex(index, origins).catch(() => undefined);
	const isDeleted = new Set(deleted);
	const originOfId = new Map(origins.map((origin) => [origin.id, origin]));
	const order = {
		ids: origins.map(({ id }) => id).filter((id) => !isDeleted.has(id)),
		athleteIdOf: (id: string) => originOfId.get(id)?.athleteId,
		begunMsOf: (id: string) => originOfId.get(id)?.begunMs,
		unreadable: unreadable.filter(({ key }) => !isDeleted.has(key.slice('head/'.length)))
	};
	if (memory.writes === writes) memory.order = order;
	return order;
}

async function readIndex(index: UseStore): Promise<Origin[]> {
	const { value } = check(originsSchema, await read(index, (objects) => valueAt(objects, indexKey)));
	if (!value) return [];
	const { ids, begunMs, athleteIds } = value;
	if (begunMs.length !== ids.length || athleteIds.length !== ids.length) return [];
	return ids.map((id, i) => ({ id, begunMs: begunMs[i]!, athleteId: athleteIds[i]! }));
}

function writeIndex(index: UseStore, origins: readonly Origin[]): Promise<void> {
	const whole: Origins = {
		ids: origins.map(({ id }) => id),
		begunMs: Float64Array.from(origins, ({ begunMs }) => begunMs),
		athleteIds: origins.map(({ athleteId }) => athleteId)
	};
	return write(index, (objects) => {
		// Whatever else lies here is of an earlier form.
		objects.clear();
		objects.put(whole, indexKey);
	});
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
	order: Pick<SessionOrder, 'ids' | 'athleteIdOf'>,
	athleteId: string
): Promise<string[]> {
	const ownerIdOf = await ownerIds(store, order);
	return order.ids.filter((id) => ownerIdOf(id) === athleteId);
}

/** Whose each session is by now: the index knows whose it was on its day. */
async function ownerIds(
	store: UseStore,
	{ athleteIdOf }: Pick<SessionOrder, 'athleteIdOf'>
): Promise<(id: string) => string> {
	const corrections = await read(store, allEdits);
	return (id) => ownerOf({ athleteId: athleteIdOf(id) ?? '', name: '' }, corrections(id).edit).id;
}

/** The newest sessions of one athlete, newest first, `most` of them or all there are. Rejects with `StoreError`. */
export async function newestOfAthlete(
	store: UseStore,
	index: UseStore,
	athleteId: string,
	most = Infinity
): Promise<ListedSession[]> {
	const own = await idsOfAthlete(store, await orderOfSessions(store, index), athleteId);
	return (await listedSessions(store, own.slice(0, most))).sessions;
}

/**
 * Those who are known from their sessions alone, with the name noted in the newest of them. Reads one head for
 * each. Rejects with `StoreError`.
 */
export async function athletesWithoutCard(
	store: UseStore,
	order: Pick<SessionOrder, 'ids' | 'athleteIdOf'>,
	cards: readonly { id: string }[]
): Promise<{ id: string; name: string }[]> {
	const ownerIdOf = await ownerIds(store, order);
	const known = new Set(cards.map(({ id }) => id));
	const newest = order.ids.filter((id) => {
		const owner = ownerIdOf(id);
		const isNew = !known.has(owner);
		known.add(owner);
		return isNew;
	});
	const { sessions } = await listedSessions(store, newest);
	return sessions.map(({ head, edit }) => ownerOf(head.athlete, edit));
}

async function idsUnder(objects: IDBObjectStore, prefix: string): Promise<string[]> {
	return (await keysUnder(objects, prefix)).map((key) => key.slice(prefix.length));
}

/** @param keptCount of all sessions: where most of them are wanted, reading all in turn is quicker than asking for each */
async function lookUp(store: UseStore, ids: readonly string[], keptCount: number) {
	const found: Origin[] = [];
	const unreadable: Unreadable[] = [];
	const take = (id: string, stored: unknown) => {
		const { value, problem } = originOf(stored);
		if (value !== undefined)
			found.push({ id, begunMs: Date.parse(value.startedAt), athleteId: value.athleteId });
		else if (stored !== undefined) unreadable.push({ key: `head/${id}`, problem });
	};
	if (ids.length > keptCount / 2) {
		const isWanted = new Set(ids);
		await read(store, (objects) =>
			eachUnder(objects, 'head/', (key, stored) => {
				const id = key.slice('head/'.length);
				if (isWanted.has(id)) take(id, stored);
			})
		);
		return { found, unreadable };
	}
	for (let from = 0; from < ids.length; from += fewAtATime) {
		const some = ids.slice(from, from + fewAtATime);
		await read(store, (objects) =>
			Promise.all(some.map(async (id) => take(id, await valueAt(objects, `head/${id}`))))
		);
	}
	return { found, unreadable };
}
