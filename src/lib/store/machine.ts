import { valueAt } from './database';

/** The id that this browser signs with, made at the first use, in a transaction that may write. */
export async function machineIn(objects: IDBObjectStore): Promise<string> {
	const known = await valueAt(objects, 'folder/machine');
	if (typeof known === 'string' && /^[a-z\d]{1,32}$/.test(known)) return known;
	const made = crypto.randomUUID().replaceAll('-', '').slice(0, 10);
	objects.put(made, 'folder/machine');
	return made;
}
