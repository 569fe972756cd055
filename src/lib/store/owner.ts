import { memberOf } from '$lib/record/kinds';
import { entriesUnder, read, valueAt, type UseStore } from './database';

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

/** Undefined where there is no such session or its head is damaged. Rejects with `StoreError`. */
export function ownerOf(store: UseStore, id: string): Promise<Owner | undefined> {
	return read(store, (objects) => ownerIn(objects, id));
}

/** The same in a transaction that runs. */
export async function ownerIn(objects: IDBObjectStore, id: string): Promise<Owner | undefined> {
	const [stored, edits, tombstone] = await Promise.all([
		valueAt(objects, `head/${id}`),
		entriesUnder(objects, `edit/${id}/`),
		valueAt(objects, `tombstone/${id}`)
	]);
	const head = memberOf(stored, 'head');
	const recordedId = memberOf(memberOf(head, 'athlete'), 'athleteId');
	if (typeof recordedId !== 'string') return undefined;
	const corrected = edits
		.map(([, edit]) => memberOf(edit, 'athlete'))
		.findLast((athlete) => typeof memberOf(athlete, 'id') === 'string');
	const owner = corrected ?? memberOf(head, 'athlete');
	return {
		recordedId,
		ownerId: corrected === undefined ? recordedId : String(memberOf(corrected, 'id')),
		name: String(memberOf(owner, 'name') ?? 'Somebody without a name'),
		isInvented: memberOf(head, 'practice') === true || memberOf(head, 'example') === true,
		isDeleted: tombstone !== undefined
	};
}
