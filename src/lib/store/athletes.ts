import { entriesUnder, read, storable, under, valueAt, write } from './database';
import { athleteSchema, check } from '$lib/session/record-schema';
import type { Unreadable, UseStore } from './database';
import type { MeasuredRecord } from '$lib/session/journal';
import type { RecordEdit } from '$lib/session/record';
import type { Athlete, Checked } from '$lib/session/record-schema';

const athletePrefix = 'athlete/';

export interface AthleteList {
	/** At least one, by name. */
	athletes: Athlete[];
	unreadable: Unreadable[];
}

/**
 * Everybody who boxes here. Where nobody can be read yet, one athlete called "Me" is made and kept, so that
 * the first session needs no form. What cannot be read is named and stays. Rejects with `StoreError`.
 */
export async function listAthletes(
	store: UseStore,
	newId: () => string = () => crypto.randomUUID()
): Promise<AthleteList> {
	const known = await read(store, readAthletes);
	if (known.athletes.length > 0) return known;
	return write(store, async (objects) => {
		// Looked up again: a second tab may have made one in the meantime.
		const list = await readAthletes(objects);
		if (list.athletes.length > 0) return list;
		const athlete: Athlete = { id: newId(), name: 'Me' };
		objects.add(athlete, athletePrefix + athlete.id);
		return { ...list, athletes: [athlete] };
	});
}

/** One athlete; a problem where the entry is missing or damaged. Rejects with `StoreError`. */
export async function getAthlete(store: UseStore, id: string): Promise<Checked<Athlete>> {
	const stored = await read(store, (objects) => valueAt(objects, athletePrefix + id));
	return stored === undefined
		? { problem: 'There is no such athlete in this browser.' }
		: check(athleteSchema, stored);
}

/** Keeps an athlete, in place of the one with the same id. Rejects with `StoreError`. */
export async function saveAthlete(store: UseStore, athlete: Athlete): Promise<void> {
	const stored = storable(athleteSchema, athlete, 'The athlete');
	await write(store, (objects) => void objects.put(stored, athletePrefix + athlete.id));
}

async function readAthletes(objects: IDBObjectStore): Promise<AthleteList> {
	const athletes: Athlete[] = [];
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of await entriesUnder(objects, athletePrefix)) {
		const { value, problem } = check(athleteSchema, stored);
		if (value) athletes.push(value);
		else unreadable.push({ key, problem });
	}
	athletes.sort((a, b) => a.name.localeCompare(b.name));
	return { athletes, unreadable };
}

const gonePrefix = 'gone-athlete/';

/**
 * Takes an athlete and all their sessions out of every list, in one transaction. Answers how many sessions
 * went along. `restoreAthlete` brings all of it back until the sessions are purged. Rejects with `StoreError`.
 */
export function deleteAthlete(store: UseStore, id: string, nowMs = Date.now()): Promise<number> {
	return write(store, async (objects) => {
		const athlete = await valueAt(objects, athletePrefix + id);
		const sessionIds = await sessionsOf(objects, id);
		objects.put({ athlete, sessionIds, deletedAtMs: nowMs }, gonePrefix + id);
		objects.delete(athletePrefix + id);
		for (const sessionId of sessionIds) objects.put({ deletedAtMs: nowMs }, `tombstone/${sessionId}`);
		return sessionIds.length;
	});
}

export function restoreAthlete(store: UseStore, id: string): Promise<void> {
	return write(store, async (objects) => {
		const gone = await valueAt(objects, gonePrefix + id);
		if (!isGone(gone)) return;
		objects.put(gone.athlete, athletePrefix + id);
		for (const sessionId of gone.sessionIds) objects.delete(`tombstone/${String(sessionId)}`);
		objects.delete(gonePrefix + id);
	});
}

/** Removes for good what is known of athletes who were deleted `olderThanMs` or longer ago. Rejects with `StoreError`. */
export function purgeAthletes(store: UseStore, olderThanMs: number, nowMs: number): Promise<void> {
	return write(store, async (objects) => {
		for (const [key, gone] of await entriesUnder(objects, gonePrefix))
			if (isObject(gone) && typeof gone.deletedAtMs === 'number' && gone.deletedAtMs <= nowMs - olderThanMs)
				objects.delete(key);
	});
}

/** How many kept sessions belong to an athlete. Rejects with `StoreError`. */
export function countSessionsOf(store: UseStore, id: string): Promise<number> {
	return read(store, async (objects) => (await sessionsOf(objects, id)).length);
}

/** Keeps the example gym: athletes and sessions in one transaction. Rejects with `StoreError`. */
export async function keepExample(
	store: UseStore,
	athletes: readonly Athlete[],
	sessions: readonly { record: MeasuredRecord; edit?: RecordEdit }[]
): Promise<void> {
	const kept = athletes.map((athlete) => storable(athleteSchema, athlete, 'The example'));
	await write(store, (objects) => {
		for (const athlete of kept) objects.put(athlete, athletePrefix + athlete.id);
		for (const { record, edit } of sessions) {
			const { body, ...listed } = record;
			objects.put(listed, `head/${record.head.id}`);
			objects.put(body, `body/${record.head.id}`);
			if (edit) objects.put(edit, `edit/${record.head.id}/${edit.at}`);
		}
	});
}

/** Removes everything that is marked as an example, for good, in one transaction. Rejects with `StoreError`. */
export function removeExample(store: UseStore): Promise<void> {
	return write(store, async (objects) => {
		for (const [key, athlete] of await entriesUnder(objects, athletePrefix))
			if (isObject(athlete) && athlete.example === true) objects.delete(key);
		for (const [key, stored] of await entriesUnder(objects, 'head/')) {
			if (!isObject(stored) || !isObject(stored.head) || stored.head.example !== true) continue;
			const id = key.slice('head/'.length);
			for (const gone of [key, `body/${id}`, under(`edit/${id}/`), `tombstone/${id}`]) objects.delete(gone);
		}
	});
}

/** Whose a session is goes by what was put right: by the last entry that names an athlete, else by the record. */
async function sessionsOf(objects: IDBObjectStore, athleteId: string): Promise<string[]> {
	const owners = new Map<string, unknown>();
	for (const [key, stored] of await entriesUnder(objects, 'head/')) {
		const head = isObject(stored) ? stored.head : undefined;
		const athlete = isObject(head) ? head.athlete : undefined;
		if (isObject(athlete)) owners.set(key.slice('head/'.length), athlete.athleteId);
	}
	// In order of their keys, which is the order of time.
	for (const [key, stored] of await entriesUnder(objects, 'edit/')) {
		const id = key.split('/')[1] ?? '';
		const athlete = isObject(stored) ? stored.athlete : undefined;
		if (owners.has(id) && isObject(athlete)) owners.set(id, athlete.id);
	}
	return [...owners].filter(([, owner]) => owner === athleteId).map(([id]) => id);
}

function isGone(value: unknown): value is { athlete: unknown; sessionIds: unknown[] } {
	return isObject(value) && isObject(value.athlete) && Array.isArray(value.sessionIds);
}

function isObject(value: unknown): value is Record<string, unknown> {
	return typeof value === 'object' && value !== null;
}
