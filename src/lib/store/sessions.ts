import {
	eachUnder,
	entriesUnder,
	fewAtATime,
	groupById,
	isObject,
	keysUnder,
	read,
	storable,
	under,
	valueAt,
	write,
	type Unreadable,
	type UseStore
} from './database';
import { migrated } from '$lib/record/migrations';
import { summarySchema, type Summary } from '$lib/record/summary';
import { measuredBy } from '$lib/record/put-right';
import { after } from '$lib/record/stamp';
import { recordBodySchema, type RecordBody, type SessionRecord } from '$lib/record/body';
import { check, type Checked } from '$lib/record/check';
import { recordEditSchema, type RecordEdit } from '$lib/record/edit';
import { recordHeadSchema, type RecordHead } from '$lib/record/head';
import type { MeasuredRecord } from '$lib/record/journal';

/** All corrections to one record, folded: the last writer of each field wins. */
export type FoldedEdit = Omit<RecordEdit, 'at'>;

export interface ListedSession {
	head: RecordHead;
	edit: FoldedEdit;
	/** Absent where none was saved, or one by other methods: compute it and save it. */
	summary?: Summary;
}

export type SessionReading =
	| {
			status: 'found';
			record: SessionRecord;
			edit: FoldedEdit;
			/** When the note was written last, ISO 8601 in UTC. */
			noteAt?: string;
			summary?: Summary;
			unreadable: Unreadable[];
	  }
	| { status: 'missing' | 'unreadable'; problem: string };

const headKey = (id: string) => `head/${id}`;
const bodyKey = (id: string) => `body/${id}`;
const editPrefix = (id: string) => `edit/${id}/`;
const tombstonePrefix = 'tombstone/';
const tombstoneKey = (id: string) => tombstonePrefix + id;

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
		const [edits, tombstones] = await Promise.all([
			entriesUnder(objects, 'edit/'),
			keysUnder(objects, tombstonePrefix)
		]);
		const deleted = new Set(tombstones.map((key) => key.slice(tombstonePrefix.length)));
		const editsOf = groupById(edits);
		await eachUnder(objects, 'head/', (key, stored) => {
			const id = key.slice('head/'.length);
			if (deleted.has(id)) return;
			const { value: head, problem } = checkHead(stored);
			if (head) {
				const folded = foldEdits(editsOf.get(id) ?? []);
				sessions.push({ head, edit: folded.edit, ...currentSummary(stored) });
				unreadable.push(...folded.unreadable);
			} else unreadable.push({ key, problem });
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
		const editsOf = ids.length > 100 ? groupById(await entriesUnder(objects, 'edit/')) : undefined;
		const one = async (id: string) => {
			const [stored, edits] = await Promise.all([
				valueAt(objects, headKey(id)),
				editsOf ? (editsOf.get(id) ?? []) : entriesUnder(objects, editPrefix(id))
			]);
			// Judged as each one comes: all of them at the end would hold the page for as long as that takes.
			return listed(id, stored, edits);
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
	edits: readonly [string, unknown][]
): { session?: ListedSession; unreadable: Unreadable[] } {
	if (stored === undefined) return { unreadable: [] };
	const { value: head, problem } = checkHead(stored);
	if (!head) return { unreadable: [{ key: headKey(id), problem }] };
	const { edit, unreadable } = foldEdits(edits);
	return { session: { head, edit, ...currentSummary(stored) }, unreadable };
}

/** When the session of a stored head began, ISO 8601 in UTC, and whose it was that day. */
export function originOf(stored: unknown): Checked<{ startedAt: string; athleteId: string }> {
	const { value, problem } = checkHead(stored);
	return value ? { value: { startedAt: value.startedAt, athleteId: value.athlete.athleteId } } : { problem };
}

/** Whose the sessions are that a later correction gave to another athlete: ids of athletes by those of sessions. */
export async function reassignedSessions(store: UseStore): Promise<Map<string, string>> {
	const edits = groupById(await read(store, (objects) => entriesUnder(objects, 'edit/')));
	return new Map(
		[...edits].flatMap(([id, entries]) => {
			const owner = foldEdits(entries).edit.athlete;
			return owner ? [[id, owner.id] as const] : [];
		})
	);
}

/** One session with its readings. Damage is an answer, not an error; rejects with `StoreError` otherwise. */
export async function readSession(store: UseStore, id: string): Promise<SessionReading> {
	const [storedHead, storedBody, edits, tombstone] = await read(store, (objects) =>
		Promise.all([
			valueAt(objects, headKey(id)),
			valueAt(objects, bodyKey(id)),
			entriesUnder(objects, editPrefix(id)),
			valueAt(objects, tombstoneKey(id))
		])
	);
	if (tombstone !== undefined) return { status: 'missing', problem: 'This session was deleted.' };
	if (storedHead === undefined)
		return { status: 'missing', problem: 'There is no such session in this browser.' };
	if (storedBody === undefined)
		return { status: 'unreadable', problem: 'The readings of this session are missing.' };
	const head = checkHead(storedHead);
	if (head.problem !== undefined) return { status: 'unreadable', problem: head.problem };
	const body = checkBody(storedBody);
	if (body.problem !== undefined) return { status: 'unreadable', problem: body.problem };
	return {
		status: 'found',
		record: { head: head.value, body: body.value },
		...foldEdits(edits),
		...currentSummary(storedHead)
	};
}

/**
 * Keeps a summary beside its head, if it is still true: nothing happens where the record is gone, or where a correction
 * has come since that changes what the readings come to. Rejects with `StoreError`.
 *
 * @param edit the corrections that it was measured by
 */
export function saveSummary(store: UseStore, id: string, summary: Summary, edit: FoldedEdit): Promise<void> {
	return write(store, async (objects) => {
		const [stored, edits] = await Promise.all([
			valueAt(objects, headKey(id)),
			entriesUnder(objects, editPrefix(id))
		]);
		const { value: head } = checkHead(stored);
		if (!head || measuredBy(head, foldEdits(edits).edit) !== measuredBy(head, edit)) return;
		objects.put({ ...(stored as object), summary }, headKey(id));
	});
}

/**
 * Adds a correction beside a record, which itself stays as it is. It counts as made after every correction that is known
 * here, whatever this machine's clock says. Rejects with `StoreError`.
 */
export function addEdit(store: UseStore, id: string, edit: RecordEdit): Promise<void> {
	return write(store, (objects) => addEditIn(objects, id, edit));
}

/** The same in a transaction that runs. */
export async function addEditIn(objects: IDBObjectStore, id: string, edit: RecordEdit): Promise<void> {
	const last = (await keysUnder(objects, editPrefix(id))).at(-1)?.slice(editPrefix(id).length) ?? '';
	await putEdit(objects, id, { ...edit, at: after(last, Date.parse(edit.at)) });
}

/**
 * Puts a correction as it was made somewhere, in a transaction that runs. A summary goes where the
 * readings come to something else with it.
 */
export async function putEdit(objects: IDBObjectStore, id: string, edit: RecordEdit): Promise<void> {
	const stored = withoutUndefined(storable(recordEditSchema, edit, 'The change'));
	const [kept, edits] = await Promise.all([
		valueAt(objects, headKey(id)),
		entriesUnder(objects, editPrefix(id))
	]);
	const key = editPrefix(id) + edit.at;
	objects.put(stored, key);
	const { value: head } = checkHead(kept);
	if (!head || !isObject(kept) || !('summary' in kept)) return;
	const others = edits.filter(([other]) => other !== key);
	const all = [...others, [key, stored] as [string, unknown]].sort(([one], [other]) =>
		one < other ? -1 : 1
	);
	if (measuredBy(head, foldEdits(edits).edit) === measuredBy(head, foldEdits(all).edit)) return;
	const { summary: _, ...withoutIt } = kept;
	objects.put(withoutIt, headKey(id));
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
		const due = (await entriesUnder(objects, tombstonePrefix)).filter(
			([, stored]) =>
				isObject(stored) &&
				typeof stored.deletedAtMs === 'number' &&
				stored.deletedAtMs <= nowMs - olderThanMs
		);
		for (const [key] of due) removeSession(objects, key.slice(tombstonePrefix.length));
		return due.length;
	});
}

function checkHead(stored: unknown): Checked<RecordHead> {
	const { value: form, problem } = migrated('head', isObject(stored) ? stored.head : stored);
	return problem === undefined ? check(recordHeadSchema, form) : { problem };
}

function checkBody(stored: unknown): Checked<RecordBody> {
	const { value: form, problem } = migrated('body', stored);
	return problem === undefined ? check(recordBodySchema, form) : { problem };
}

function currentSummary(stored: unknown): { summary?: Summary } {
	const { value } = check(summarySchema, isObject(stored) ? stored.summary : undefined);
	return value ? { summary: value } : {};
}

/** Entries in order of their keys, which is the order of `at`. */
function foldEdits(entries: readonly [string, unknown][]): {
	edit: FoldedEdit;
	noteAt?: string;
	unreadable: Unreadable[];
} {
	const edit: FoldedEdit = {};
	let noteAt: string | undefined;
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of entries) {
		const { value, problem } = check(recordEditSchema, stored);
		if (value) {
			const { at, ...fields } = value;
			Object.assign(edit, withoutUndefined(fields));
			if (fields.note !== undefined) noteAt = at;
		} else unreadable.push({ key, problem });
	}
	return { edit, ...(noteAt !== undefined && { noteAt }), unreadable };
}

/** The members that say something: one that is undefined must not take the place of another. */
export function withoutUndefined<T extends object>(value: T): Partial<T> {
	return Object.fromEntries(Object.entries(value).filter(([, member]) => member !== undefined)) as Partial<T>;
}
