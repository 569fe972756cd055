import {
	entriesUnder,
	isObject,
	keysUnder,
	storable,
	valueAt,
	write,
	type Unreadable,
	type UseStore
} from './database';
import { groupById } from './many-entries';
import { checkHead, headKey } from './session-parts';
import { check } from '$lib/record/check';
import { recordEditSchema, type FoldedEdit, type RecordEdit } from '$lib/record/edit';
import { folded, measuredBy } from '$lib/record/put-right';
import { after } from '$lib/record/stamp';

/** The corrections to one session, and which of them cannot be read. */
export interface Corrections {
	edit: FoldedEdit;
	/** When the note was written last, ISO 8601 in UTC. */
	noteAt?: string;
	unreadable: Unreadable[];
}

export const editPrefix = (id: string) => `edit/${id}/`;

/** The corrections to one session. */
export async function editOf(objects: IDBObjectStore, id: string): Promise<Corrections> {
	return correctionsIn(await entriesUnder(objects, editPrefix(id)));
}

/** The corrections to every session, read at once and folded as each is asked for. */
export async function allEdits(objects: IDBObjectStore): Promise<(id: string) => Corrections> {
	const groups = groupById(await entriesUnder(objects, 'edit/'));
	return (id) => correctionsIn(groups.get(id) ?? []);
}

/** Entries in order of their keys, which is the order of `at`. */
function correctionsIn(entries: readonly [string, unknown][]): Corrections {
	const edits: RecordEdit[] = [];
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of entries) {
		const { value, problem } = check(recordEditSchema, stored);
		if (value) edits.push(value);
		else unreadable.push({ key, problem });
	}
	const noteAt = edits.findLast(({ note }) => note !== undefined)?.at;
	return { edit: folded(edits), ...(noteAt !== undefined && { noteAt }), unreadable };
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
	const { at, ...fields } = edit;
	await putEdit(objects, id, { ...fields, at: after(last, Date.parse(at), fields) });
}

/**
 * Puts a correction as it was made somewhere, in a transaction that runs. A summary goes where the
 * readings come to something else with it.
 */
export async function putEdit(objects: IDBObjectStore, id: string, edit: RecordEdit): Promise<void> {
	const { at, ...fields } = storable(recordEditSchema, edit, 'The change');
	const stored = { at, ...folded([{ at, ...fields }]) };
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
	if (measuredBy(head, correctionsIn(edits).edit) === measuredBy(head, correctionsIn(all).edit)) return;
	const { summary: _, ...withoutIt } = kept;
	objects.put(withoutIt, headKey(id));
}
