import * as v from 'valibot';
import { entriesUnder, read, under, valueAt, write, type UseStore } from '../database';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
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

const cardSchema = v.object({
	at: v.string(),
	by: v.string(),
	text: v.string(),
	reasons: v.optional(v.string()),
	laterAt: v.optional(v.string()),
	unstamped: v.optional(v.record(v.string(), v.object({ at: v.string(), card: athleteSchema })))
});

export const cardKey = (id: string) => `shared/card/${id}`;

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
