import { entriesUnder, isObject, keysUnder, read, storable, under, valueAt, write } from './database';
import type { Unreadable, UseStore } from './database';
import { noteDeletion } from './folder/known-fate';
import { eachUnder, fewAtATime } from './many-entries';
import { allEdits, editOf, editPrefix, type Corrections } from './edits';
import { bodyKey, checkBody, checkHead, currentSummary, headKey, tombstoneKey } from './session-parts';
import { summarySchema, type Summary } from '$lib/record/summary';
import { measuredBy } from '$lib/record/put-right';
import { recordBodySchema, type SessionRecord } from '$lib/record/body';
import { check } from '$lib/record/check';
import type { FoldedEdit } from '$lib/record/edit';
import { recordHeadSchema, type RecordHead } from '$lib/record/head';
import type { MeasuredRecord } from '$lib/record/journal';

export interface ListedSession {
	head: RecordHead;
	edit: FoldedEdit;
	/** Absent where none was saved, or one by other methods: compute it and save it. */
	summary?: Summary;
}

interface FoundSession extends Corrections {
	status: 'found';
	summary?: Summary;
}
interface NotFound {
	status: 'missing' | 'unreadable';
	problem: string;
}
export type SessionReading = (FoundSession & { record: SessionRecord }) | NotFound;
type AroundReadings = (FoundSession & { head: RecordHead }) | NotFound;

/**
 * The kept sessions, newest first, from their heads and corrections alone; no readings are read. What cannot
 * be read is named and left where it is. Deleted ones are left out. Rejects with `StoreError`.
 */
export async function listSessions(
	store: UseStore
): Promise<{ sessions: ListedSession[]; unreadable: Unreadable[] }> {
	const sessions: ListedSession[] = [];
	const unreadable: Unreadable[] = [];
	await read(store, async (objects) => {
		const [corrections, tombstones] = await Promise.all([
			allEdits(objects),
			keysUnder(objects, tombstoneKey(''))
		]);
		const deleted = new Set(tombstones.map((key) => key.slice(tombstoneKey('').length)));
		await eachUnder(objects, headKey(''), (key, stored) => {
			const id = key.slice(headKey('').length);
			if (deleted.has(id)) return;
			const one = listed(id, stored, corrections(id));
			if (one.session) sessions.push(one.session);
			unreadable.push(...one.unreadable);
		});
	});
	// Both texts are ISO 8601 in UTC, whose order is that of time.
	sessions.sort((a, b) => (a.head.startedAt < b.head.startedAt ? 1 : -1));
	return { sessions, unreadable };
}

/** The heads and corrections of these sessions, unread where one has gone meanwhile. Rejects with `StoreError`. */
export async function readListed(
	store: UseStore,
	ids: readonly string[]
): Promise<{ session?: ListedSession; unreadable: Unreadable[] }[]> {
	return read(store, async (objects) => {
		// Of many sessions all corrections at once: a question for each would take longer than the answers.
		const corrections = ids.length > 100 ? await allEdits(objects) : undefined;
		const one = async (id: string) => {
			const [stored, found] = await Promise.all([
				valueAt(objects, headKey(id)),
				corrections ? undefined : editOf(objects, id)
			]);
			// Judged as each one comes: all of them at the end would hold the page for as long as that takes.
			return listed(id, stored, found ?? corrections!(id));
		};
		const found: ReturnType<typeof listed>[] = [];
		// To ask for thousands at once would hold it, too.
		for (let from = 0; from < ids.length; from += fewAtATime)
			found.push(...(await Promise.all(ids.slice(from, from + fewAtATime).map(one))));
		return found;
	});
}

/** The session of a stored head and its corrections, as a list shows it. */
export function listed(
	id: string,
	stored: unknown,
	{ edit, unreadable }: Corrections
): { session?: ListedSession; unreadable: Unreadable[] } {
	if (stored === undefined) return { unreadable: [] };
	const { value: head, problem } = checkHead(stored);
	if (!head) return { unreadable: [{ key: headKey(id), problem }] };
	return { session: { head, edit, ...currentSummary(stored) }, unreadable };
}

/** One session with its readings. Damage is an answer, not an error; rejects with `StoreError` otherwise. */
export async function readSession(store: UseStore, id: string): Promise<SessionReading> {
	const [around, storedBody] = await read(store, (objects) =>
		Promise.all([aroundReadings(objects, id), valueAt(objects, bodyKey(id))])
	);
	if (around.status !== 'found') return around;
	if (storedBody === undefined)
		return { status: 'unreadable', problem: 'The readings of this session are missing.' };
	const body = checkBody(storedBody);
	if (body.problem !== undefined) return { status: 'unreadable', problem: body.problem };
	const { head, ...others } = around;
	return { ...others, record: { head, body: body.value } };
}

/** The same without the readings, which never change. Rejects with `StoreError`. */
export function readAroundReadings(store: UseStore, id: string): Promise<AroundReadings> {
	return read(store, (objects) => aroundReadings(objects, id));
}

async function aroundReadings(objects: IDBObjectStore, id: string): Promise<AroundReadings> {
	const [storedHead, corrections, tombstone] = await Promise.all([
		valueAt(objects, headKey(id)),
		editOf(objects, id),
		valueAt(objects, tombstoneKey(id))
	]);
	if (tombstone !== undefined) return { status: 'missing', problem: 'This session was deleted.' };
	if (storedHead === undefined)
		return { status: 'missing', problem: 'There is no such session in this browser.' };
	const { value: head, problem } = checkHead(storedHead);
	if (!head) return { status: 'unreadable', problem };
	return { status: 'found', head, ...corrections, ...currentSummary(storedHead) };
}

/**
 * Keeps a summary beside its head, if it is still true: nothing happens where the record is gone, or where a correction
 * has come since that changes what the readings come to. Rejects with `StoreError`.
 *
 * @param edit the corrections that it was measured by
 */
export function saveSummary(store: UseStore, id: string, summary: Summary, edit: FoldedEdit): Promise<void> {
	return write(store, async (objects) => {
		const [stored, now] = await Promise.all([valueAt(objects, headKey(id)), editOf(objects, id)]);
		const { value: head } = checkHead(stored);
		if (!head || measuredBy(head, now.edit) !== measuredBy(head, edit)) return;
		objects.put({ ...(stored as object), summary }, headKey(id));
	});
}

/**
 * Puts a record in a transaction that runs; without a summary one is measured when it is first listed. One that lies there
 * already ends the transaction, unless it is to be replaced.
 */
export function putSession(
	objects: IDBObjectStore,
	{ head, body, summary }: MeasuredRecord,
	how: 'add' | 'put' = 'add'
): void {
	// A cache: a summary that cannot be stored costs nothing but itself.
	const { value } = check(summarySchema, summary);
	const listed = { head: storable(recordHeadSchema, head, 'The session'), ...(value && { summary: value }) };
	objects[how](listed, headKey(head.id));
	objects[how](storable(recordBodySchema, body, 'The session'), bodyKey(head.id));
}

/** Removes a session for good, with all that belongs to it, in a transaction that runs. */
export function removeSession(objects: IDBObjectStore, id: string): void {
	for (const gone of [headKey(id), bodyKey(id), under(editPrefix(id)), tombstoneKey(id)])
		objects.delete(gone);
}

/** Takes a session out of every list, in a transaction that runs. */
export function burySession(objects: IDBObjectStore, id: string, nowMs: number): void {
	objects.put({ deletedAtMs: nowMs }, tombstoneKey(id));
}

/** Takes that back. */
export function raiseSession(objects: IDBObjectStore, id: string): void {
	objects.delete(tombstoneKey(id));
}

/** Takes a session out of every list; `restoreSession` brings it back until it is purged. */
export function deleteSession(store: UseStore, id: string, nowMs = Date.now()): Promise<void> {
	return write(store, (objects) => burySession(objects, id, nowMs));
}

export function restoreSession(store: UseStore, id: string): Promise<void> {
	return write(store, (objects) => raiseSession(objects, id));
}

/**
 * Removes for good every session that was deleted `olderThanMs` or longer before `nowMs` (epoch
 * milliseconds). Answers how many. Rejects with `StoreError`, and then none is removed.
 */
export function purgeDeleted(store: UseStore, olderThanMs: number, nowMs: number): Promise<number> {
	return write(store, async (objects) => {
		const due = (await entriesUnder(objects, tombstoneKey(''))).filter(
			([, stored]) =>
				isObject(stored) &&
				typeof stored.deletedAtMs === 'number' &&
				stored.deletedAtMs <= nowMs - olderThanMs
		);
		for (const [key] of due) {
			const id = key.slice(tombstoneKey('').length);
			await noteDeletion(objects, 'session', id);
			removeSession(objects, id);
		}
		return due.length;
	});
}
