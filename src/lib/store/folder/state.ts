import * as v from 'valibot';
import { entriesUnder, read, under, valueAt, write, type UseStore } from '../database';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import { idSchema } from '$lib/record/check';
import { bareCard } from '$lib/record/blow-changes';
import { strapRegister } from '$lib/record/card-registers';
import { isBlowRegister, withoutReasons } from '$lib/record/lock-registers';
import { textOf } from '$lib/record/same';
import type { Registers } from '$lib/record/registers';
import type { Stamp } from '$lib/record/stamp';

/**
 * What this browser remembers of the shared folder. None of it is in a backup: it belongs to one browser, and a
 * restored one finds it anew in the folder.
 *
 *     folder/handle             the chosen folder
 *     folder/machine            the id that this browser signs its files with
 *     folder/memory, folder/memory/<year>   which files were read already: see memory.ts
 *     folder/report             what came of the last reading and writing
 *     folder/consent/<athlete>  whose sessions are written
 *     folder/reason/<athlete>   of whom it is written, too, why they are held back after a blow to the head
 *     shared/session/<id>, shared/athlete/<id>   whether it is deleted, by the latest word known
 *     shared/card/<id>          which file of a card is the latest known
 *     shared/days/…, shared/plan/<id>   what of days and plans lies in no file yet
 */
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

/** The latest file of a card that is known. */
export interface CardFile extends Stamp {
	/** What it says, as one text: a card that says something else is news. Of blows to the head it has the locks alone. */
	text: string;
	/** It is of this machine and tells why the athlete is held back: that, as one text. */
	reasons?: string;
	/** The moment of the latest file of another machine, where that says the same as this one. */
	laterAt?: string;
	/** The last card of each machine that writes without stamps. */
	unstamped?: Record<string, { at: string; card: Athlete }>;
}

const stampMembers = { at: v.string(), by: v.string() };
const fateSchema = v.object({
	...stampMembers,
	deleted: v.boolean(),
	held: v.boolean(),
	into: v.optional(idSchema)
});
const cardSchema = v.object({
	...stampMembers,
	text: v.string(),
	reasons: v.optional(v.string()),
	laterAt: v.optional(v.string()),
	unstamped: v.optional(v.record(v.string(), v.object({ at: v.string(), card: athleteSchema })))
});

export const fateKey = (kind: SharedKind, id: string) => `shared/${kind}/${id}`;
export const cardKey = (id: string) => `shared/card/${id}`;

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

/** All fates of a kind by id. */
export async function fatesOf(objects: IDBObjectStore, kind: SharedKind): Promise<Map<string, Fate>> {
	const fates = new Map<string, Fate>();
	for (const [key, stored] of await entriesUnder(objects, fateKey(kind, ''))) {
		const fate = fateOf(stored);
		if (fate) fates.set(key.split('/')[2] ?? '', fate);
	}
	return fates;
}

export async function cardFileAt(objects: IDBObjectStore, id: string): Promise<CardFile | undefined> {
	const stored = await valueAt(objects, cardKey(id));
	return v.is(cardSchema, stored) ? (stored as CardFile) : undefined;
}

/**
 * What a card's file says, as one text, whether or not it tells reasons: laptops where other athletes agreed to that hold
 * the same. The strap that a page remembers by itself is not news: it goes along with what is entered by hand.
 */
export function cardFileText(athlete: Athlete, state: Registers | undefined): string {
	const { strapName: _, changedAt: _at, ...card } = bareCard(athlete);
	const { [strapRegister]: _strap, ...said } = withoutReasons(state ?? {});
	return textOf({ card, said });
}

/** Why somebody is held back, as one text; undefined where nothing is known of that, or nobody agreed that it is told. */
export async function reasonsText(
	objects: IDBObjectStore,
	id: string,
	state: Registers
): Promise<string | undefined> {
	const told = Object.entries(state).filter(([register]) => isBlowRegister(register));
	return told.length > 0 && (await tellsReason(objects, id)) ? textOf(told) : undefined;
}

function fateOf(stored: unknown): Fate | undefined {
	const { success, output } = v.safeParse(fateSchema, stored);
	return success ? (output as Fate) : undefined;
}

/** Whose sessions may be written into the folder. Nobody's until switched on. */
export async function consents(objects: IDBObjectStore): Promise<Set<string>> {
	const entries = await entriesUnder(objects, 'folder/consent/');
	return new Set(entries.filter(([, given]) => given === true).map(([key]) => key.split('/')[2] ?? ''));
}

/** Switches writing on or off for an athlete; what is not written tells no reason either. Rejects with `StoreError`. */
export function setConsent(store: UseStore, athleteId: string, given: boolean): Promise<void> {
	const key = `folder/consent/${athleteId}`;
	return write(
		store,
		(objects) => {
			if (given) return void objects.put(true, key);
			objects.delete(key);
			objects.delete(reasonKey(athleteId));
		},
		'strict'
	);
}

const reasonKey = (athleteId: string) => `folder/reason/${athleteId}`;

/** Whether it is written of an athlete, too, why they are held back. Of nobody until switched on. */
export async function tellsReason(objects: IDBObjectStore, athleteId: string): Promise<boolean> {
	return (await valueAt(objects, reasonKey(athleteId))) === true;
}

/** Switches that on or off. Rejects with `StoreError`. */
export function setReasonConsent(store: UseStore, athleteId: string, given: boolean): Promise<void> {
	const key = reasonKey(athleteId);
	return write(store, (objects) => void (given ? objects.put(true, key) : objects.delete(key)), 'strict');
}

/** The chosen folder; undefined where none is. Rejects with `StoreError`. */
export async function readHandle(store: UseStore): Promise<FileSystemDirectoryHandle | undefined> {
	const stored = await read(store, (objects) => valueAt(objects, 'folder/handle'));
	const isHandle = typeof stored === 'object' && stored !== null && 'getFileHandle' in stored;
	return isHandle ? (stored as FileSystemDirectoryHandle) : undefined;
}

/**
 * Keeps the chosen folder, or forgets it. What was read of an earlier one is forgotten with it, and whoever agreed to
 * that one has agreed to no other.
 */
export async function keepHandle(
	store: UseStore,
	handle: FileSystemDirectoryHandle | undefined
): Promise<void> {
	const before = await readHandle(store);
	const isOther = before !== undefined && handle !== undefined && !(await before.isSameEntry(handle));
	await write(
		store,
		(objects) => {
			objects.delete(under('folder/memory'));
			objects.delete('folder/report');
			if (!handle || isOther)
				for (const kind of ['consent', 'reason']) objects.delete(under(`folder/${kind}/`));
			if (handle) objects.put(handle, 'folder/handle');
			else objects.delete('folder/handle');
		},
		'strict'
	);
}
