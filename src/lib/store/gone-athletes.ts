import { athletePrefix } from './athletes';
import { entriesUnder, isObject, keysUnder, read, valueAt, write, type UseStore } from './database';
import { fateAt } from './folder/state';
import { deleteFuel } from './fuel';

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

/**
 * Removes for good what is known of athletes who were deleted `olderThanMs` or longer ago, and what they logged:
 * unless their card is here again, or was merged into one that is still to come. Rejects with `StoreError`.
 */
export function purgeAthletes(store: UseStore, olderThanMs: number, nowMs: number): Promise<void> {
	return write(store, async (objects) => {
		for (const [key, gone] of await entriesUnder(objects, gonePrefix)) {
			if (!isObject(gone) || typeof gone.deletedAtMs !== 'number') continue;
			if (gone.deletedAtMs > nowMs - olderThanMs) continue;
			objects.delete(key);
			const id = key.slice(gonePrefix.length);
			const [card, fate] = await Promise.all([
				valueAt(objects, athletePrefix + id),
				fateAt(objects, 'athlete', id)
			]);
			if (card === undefined && fate?.into === undefined) deleteFuel(objects, id);
		}
	});
}

/** How many kept sessions belong to an athlete. Rejects with `StoreError`. */
export function countSessionsOf(store: UseStore, id: string): Promise<number> {
	return read(store, async (objects) => (await sessionsOf(objects, id)).length);
}

/**
 * Whose a session is goes by what was put right: by the last entry that names an athlete, else by the record. One that
 * was deleted by itself is none of them: it would come back with the athlete.
 */
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
	for (const key of await keysUnder(objects, 'tombstone/')) owners.delete(key.slice('tombstone/'.length));
	return [...owners].filter(([, owner]) => owner === athleteId).map(([id]) => id);
}

function isGone(value: unknown): value is { athlete: unknown; sessionIds: unknown[] } {
	return isObject(value) && isObject(value.athlete) && Array.isArray(value.sessionIds);
}
