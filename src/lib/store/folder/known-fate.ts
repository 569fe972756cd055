import * as v from 'valibot';
import { entriesUnder, valueAt } from '../database';
import { idSchema } from '$lib/record/check';
import type { Stamp } from '$lib/record/stamp';

/** Of what deletions are told. */
export type SharedKind = 'session' | 'athlete';

/** Whether something that is or was in the folder is deleted. The later stamp holds. */
export interface Fate extends Stamp {
	/** `at` and `by` are empty as long as nobody ever deleted it, or did so before the folder knew of it. */
	deleted: boolean;
	/** It lay in this store when that was last looked at: gone since means deleted here. */
	held: boolean;
	/** The card that this one was merged into. */
	into?: string;
}

const fateSchema = v.object({
	at: v.string(),
	by: v.string(),
	deleted: v.boolean(),
	held: v.boolean(),
	into: v.optional(idSchema)
});
export const fateKey = (kind: SharedKind, id: string) => `shared/${kind}/${id}`;
export const neverDeleted: Fate = { deleted: false, held: true, at: '', by: '' };

/**
 * Notes, in a transaction that runs, that something is deleted here. Where the folder does not know of it nobody is told: it
 * may come to lie there all the same, out of another laptop's backup, and is not taken in again.
 */
export async function noteDeletion(objects: IDBObjectStore, kind: SharedKind, id: string): Promise<void> {
	const untold: Fate = { deleted: true, held: false, at: '', by: '' };
	if (!(await fateAt(objects, kind, id))) objects.put(untold, fateKey(kind, id));
}

/** Takes that back. What others were told of is told to them by the next visit. */
export async function forgetUntold(objects: IDBObjectStore, kind: SharedKind, id: string): Promise<void> {
	const fate = await fateAt(objects, kind, id);
	if (fate?.deleted && fate.at === '') objects.delete(fateKey(kind, id));
}

export async function fateAt(
	objects: IDBObjectStore,
	kind: SharedKind,
	id: string
): Promise<Fate | undefined> {
	return fateOf(await valueAt(objects, fateKey(kind, id)));
}

/** The fates of a kind by id: of these, or all. */
export async function fatesOf(
	objects: IDBObjectStore,
	kind: SharedKind,
	ids?: ReadonlySet<string>
): Promise<Map<string, Fate>> {
	const keys = ids && [...ids].map((id) => fateKey(kind, id));
	const found = keys
		? await Promise.all(keys.map(async (key) => [key, await valueAt(objects, key)] as const))
		: await entriesUnder(objects, fateKey(kind, ''));
	const fates = new Map<string, Fate>();
	for (const [key, stored] of found) {
		const fate = fateOf(stored);
		if (fate) fates.set(key.split('/')[2] ?? '', fate);
	}
	return fates;
}

function fateOf(stored: unknown): Fate | undefined {
	const { success, output } = v.safeParse(fateSchema, stored);
	return success ? (output as Fate) : undefined;
}
