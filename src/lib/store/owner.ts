import { memberOf } from '$lib/record/kinds';
import { ownerOf } from '$lib/record/put-right';
import type { FoldedEdit } from '$lib/record/edit';
import { entriesUnder, keysUnder, read, valueAt, type UseStore } from './database';
import { allEdits, editOf } from './edits';
import { headKey, tombstoneKey } from './session-parts';

/** Whose a session is. */
export interface Owner {
	/** Whose numbers the record keeps. */
	recordedId: string;
	/** Whose it is by the latest correction. */
	ownerId: string;
	/** The owner's name as the session has it. */
	name: string;
	/** Made by the practice strap, or invented with the example gym. */
	isInvented: boolean;
	isDeleted: boolean;
}

/** Undefined where there is no such session or nobody knows whose it is. Rejects with `StoreError`. */
export function readOwner(store: UseStore, id: string): Promise<Owner | undefined> {
	return read(store, (objects) => ownerIn(objects, id));
}

/** The same in a transaction that runs. */
export async function ownerIn(objects: IDBObjectStore, id: string): Promise<Owner | undefined> {
	const [stored, { edit }, tombstone] = await Promise.all([
		valueAt(objects, headKey(id)),
		editOf(objects, id),
		valueAt(objects, tombstoneKey(id))
	]);
	return ownerFrom(stored, edit, tombstone !== undefined);
}

/** The same of every kept session, in a transaction that runs: owners by the ids of sessions. */
export async function ownersIn(objects: IDBObjectStore): Promise<Map<string, Owner>> {
	const [heads, corrections, tombstones] = await Promise.all([
		entriesUnder(objects, headKey('')),
		allEdits(objects),
		keysUnder(objects, tombstoneKey(''))
	]);
	const deleted = new Set(tombstones);
	const owners = new Map<string, Owner>();
	for (const [key, stored] of heads) {
		const id = key.slice(headKey('').length);
		const owner = ownerFrom(stored, corrections(id).edit, deleted.has(tombstoneKey(id)));
		if (owner) owners.set(id, owner);
	}
	return owners;
}

/** A head that is damaged elsewhere says whose it is all the same: it goes where its athlete goes. */
function ownerFrom(stored: unknown, edit: FoldedEdit, isDeleted: boolean): Owner | undefined {
	const head = memberOf(stored, 'head');
	const noted = memberOf(head, 'athlete');
	const recordedId = memberOf(noted, 'athleteId');
	if (typeof recordedId !== 'string') return undefined;
	const notedName = String(memberOf(noted, 'name') ?? 'Somebody without a name');
	const { id: ownerId, name } = ownerOf({ athleteId: recordedId, name: notedName }, edit);
	const isInvented = memberOf(head, 'practice') === true || memberOf(head, 'example') === true;
	return { recordedId, ownerId, name, isInvented, isDeleted };
}
