import { athletePrefix } from './athlete-list';
import { addCard, removeCard } from './athletes';
import { entriesUnder, isObject, read, valueAt, write, type UseStore } from './database';
import { fateAt, forgetUntold, noteDeletion } from './folder/known-fate';
import { removeDays } from './days';
import { removeFuel } from './fuel';
import { ownersIn } from './owner';
import { burySession, raiseSession } from './sessions';
import { mendMadeTrainings } from './trainings';
import type { Athlete } from '$lib/record/athlete';

const gonePrefix = 'gone-athlete/';

/**
 * Takes an athlete and all their sessions out of every list, in one transaction. Answers how many sessions
 * went along. `restoreAthlete` brings all of it back until the sessions are purged. Rejects with `StoreError`.
 */
export function deleteAthlete(store: UseStore, id: string, nowMs = Date.now()): Promise<number> {
	return write(store, async (objects) => {
		const sessionIds = await sessionsOf(objects, id);
		await putAway(objects, id, nowMs, sessionIds);
		await noteDeletion(objects, 'athlete', id);
		for (const sessionId of sessionIds) burySession(objects, sessionId, nowMs);
		return sessionIds.length;
	});
}

/** Puts a card away for a day, in a transaction that runs. What is known of who said what of it stays. */
export async function putAway(
	objects: IDBObjectStore,
	id: string,
	nowMs: number,
	sessionIds: readonly string[] = []
): Promise<void> {
	const athlete = await valueAt(objects, athletePrefix + id);
	objects.put({ athlete, sessionIds, deletedAtMs: nowMs }, gonePrefix + id);
	objects.delete(athletePrefix + id);
}

/** Takes a card out again, in a transaction that runs. Answers the sessions that went with it; undefined where none lies there. */
export async function takeOut(objects: IDBObjectStore, id: string): Promise<readonly unknown[] | undefined> {
	const gone = await valueAt(objects, gonePrefix + id);
	if (!isGone(gone)) return undefined;
	addCard(objects, gone.athlete as Athlete);
	objects.delete(gonePrefix + id);
	return gone.sessionIds;
}

export function restoreAthlete(store: UseStore, id: string): Promise<void> {
	return write(store, async (objects) => {
		for (const sessionId of (await takeOut(objects, id)) ?? []) raiseSession(objects, String(sessionId));
		await forgetUntold(objects, 'athlete', id);
	});
}

/**
 * Removes for good what is known of athletes who were deleted `olderThanMs` or longer ago, and what they logged:
 * unless their card is here again, or was merged into one that is still to come. Nothing of sessions that are gone stays in
 * what lists by day keep of them. Rejects with `StoreError`.
 */
export async function purgeAthletes(store: UseStore, olderThanMs: number, nowMs: number): Promise<void> {
	await write(store, async (objects) => {
		for (const [key, gone] of await entriesUnder(objects, gonePrefix)) {
			if (!isObject(gone) || typeof gone.deletedAtMs !== 'number') continue;
			if (gone.deletedAtMs > nowMs - olderThanMs) continue;
			objects.delete(key);
			const id = key.slice(gonePrefix.length);
			const [card, fate] = await Promise.all([
				valueAt(objects, athletePrefix + id),
				fateAt(objects, 'athlete', id)
			]);
			if (card !== undefined || fate?.into !== undefined) continue;
			removeFuel(objects, id);
			removeDays(objects, id);
			removeCard(objects, id);
		}
	});
	await mendMadeTrainings(store);
}

/** How many kept sessions belong to an athlete. Rejects with `StoreError`. */
export function countSessionsOf(store: UseStore, id: string): Promise<number> {
	return read(store, async (objects) => (await sessionsOf(objects, id)).length);
}

/** One that was deleted by itself is none of them: it would come back with the athlete. */
async function sessionsOf(objects: IDBObjectStore, athleteId: string): Promise<string[]> {
	const owners = await ownersIn(objects);
	return [...owners].flatMap(([id, { ownerId, isDeleted }]) =>
		ownerId === athleteId && !isDeleted ? id : []
	);
}

function isGone(value: unknown): value is { athlete: unknown; sessionIds: unknown[] } {
	return isObject(value) && isObject(value.athlete) && Array.isArray(value.sessionIds);
}
