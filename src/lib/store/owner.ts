import { memberOf } from './backup-form';
import { entriesUnder, read, valueAt, type UseStore } from './database';

/** Whose a session is. */
export interface Owner {
	/** Whose numbers the record keeps. */
	recordedId: string;
	/** Whose it is by the latest correction. */
	ownerId: string;
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
	const named = edits.map(([, edit]) => memberOf(memberOf(edit, 'athlete'), 'id'));
	const corrected = named.findLast((one): one is string => typeof one === 'string');
	return {
		recordedId,
		ownerId: corrected ?? recordedId,
		isInvented: memberOf(head, 'practice') === true || memberOf(head, 'example') === true,
		isDeleted: tombstone !== undefined
	};
}
