import { entriesUnder, keysUnder, valueAt, write, type UseStore } from '../database';
import type { FateKind } from './names';
import { after, isLater, type Stamp } from '$lib/record/stamp';
import { fateAt, fateKey, fatesOf, neverDeleted, type Fate, type SharedKind } from './known-fate';
import { machineIn } from '../machine';
import { putAway, takeOut } from '../gone-athletes';
import { burySession, raiseSession } from '../sessions';

/**
 * Deletions that travel. What is deleted here becomes a word in the folder, what is brought back a later one, and
 * the latest word holds everywhere. It is kept for ever, because the purge removes everything else that would
 * keep a deleted session from coming back out of the folder.
 */

interface Place {
	/** Where it lies as long as it is not deleted for good. */
	key(id: string): string;
	/** Where its deletion is noted until it is purged. */
	gone(id: string): string;
	/** A deleted session still lies at its key; a deleted athlete is moved away. */
	staysAtKey: boolean;
}

const places: Record<SharedKind, Place> = {
	session: { key: (id) => `head/${id}`, gone: (id) => `tombstone/${id}`, staysAtKey: true },
	athlete: { key: (id) => `athlete/${id}`, gone: (id) => `gone-athlete/${id}`, staysAtKey: false }
};

export const fateKind = (kind: SharedKind, { deleted }: Pick<Fate, 'deleted'>): FateKind =>
	`${kind}-${deleted ? 'deleted' : 'restored'}`;

/**
 * Finds out what was deleted and brought back here since this was last asked. Answers the athletes who were brought back,
 * and the sessions of whose deletion or return there is a word. Rejects with `StoreError`.
 */
export function noteOwnFates(
	store: UseStore,
	nowMs: number
): Promise<{ athletesBack: string[]; sessionsTold: string[] }> {
	return write(store, async (objects) => {
		const me = await machineIn(objects);
		const { told: sessionsTold } = await noteKind(objects, 'session', me, nowMs);
		const { back: athletesBack } = await noteKind(objects, 'athlete', me, nowMs);
		return { athletesBack, sessionsTold };
	});
}

async function noteKind(
	objects: IDBObjectStore,
	kind: SharedKind,
	me: string,
	nowMs: number
): Promise<{ back: string[]; told: string[] }> {
	const place = places[kind];
	const idsAt = (keys: readonly string[]) => new Set(keys.map((key) => key.split('/')[1] ?? ''));
	const [fates, keys, gone] = await Promise.all([
		fatesOf(objects, kind),
		keysUnder(objects, place.key('')),
		entriesUnder(objects, place.gone(''))
	]);
	const here = idsAt(keys);
	const goneAtMs = new Map(gone.map(([key, stored]) => [key.split('/')[1] ?? '', deletedAtMs(stored)]));
	const back: string[] = [];
	const told: string[] = [];
	for (const [id, fate] of fates) {
		const held = here.has(id);
		const isAlive = held && !(place.staysAtKey && goneAtMs.has(id));
		const next: Fate = { ...fate, held };
		const word = (deleted: boolean, atMs: number) =>
			Object.assign(next, { deleted, at: after(fate.at, atMs, deleted), by: me });
		if (!fate.deleted && fate.held && !isAlive) word(true, goneAtMs.get(id) ?? nowMs);
		else if (fate.deleted && isAlive) {
			word(false, nowMs);
			back.push(id);
		}
		if (!next.deleted) delete next.into;
		if (next.at !== '') told.push(id);
		if (next.held !== fate.held || next.deleted !== fate.deleted) objects.put(next, fateKey(kind, id));
	}
	return { back, told };
}

/** The moment of a deletion as it is noted here; undefined where the note is damaged. */
function deletedAtMs(stored: unknown): number | undefined {
	const atMs = (stored as { deletedAtMs?: unknown } | undefined)?.deletedAtMs;
	return typeof atMs === 'number' && Math.abs(atMs) < 8.64e15 ? atMs : undefined;
}

/**
 * Something that is or was here is found in the folder: from now on its deletion is news for the others. One that was
 * deleted before is told now. Answers whether it is deleted. Rejects with `StoreError`.
 */
export function noteShared(store: UseStore, kind: SharedKind, id: string, nowMs: number): Promise<boolean> {
	return write(store, async (objects) => {
		const { known, held, gone } = await found(objects, kind, id);
		if (known && !(known.deleted && known.at === '')) return known.deleted;
		const isAlive = held && !(places[kind].staysAtKey && gone !== undefined);
		const at = new Date(deletedAtMs(gone) ?? nowMs).toISOString();
		if (isAlive) objects.put(neverDeleted, fateKey(kind, id));
		else objects.put({ deleted: true, held, at, by: await machineIn(objects) }, fateKey(kind, id));
		return !isAlive;
	});
}

/** What is known of a thing's deletion, whether it lies here, and what notes here that it was deleted. */
async function found(objects: IDBObjectStore, kind: SharedKind, id: string) {
	const { key, gone: noteKey } = places[kind];
	const [known, present, gone] = await Promise.all([
		fateAt(objects, kind, id),
		valueAt(objects, key(id)),
		valueAt(objects, noteKey(id))
	]);
	return { known, held: present !== undefined, gone };
}

export interface FateWord extends Stamp {
	deleted: boolean;
	into?: string;
}

/**
 * Takes a word from the folder. Where it is later than what is known it holds, and this store follows: what is
 * deleted can be brought back here for a day from now, whenever it was deleted. Answers whether anything that
 * lies here was touched. Rejects with `StoreError`.
 */
export function takeFate(
	store: UseStore,
	kind: SharedKind,
	id: string,
	word: FateWord,
	nowMs: number
): Promise<boolean> {
	return write(store, async (objects) => {
		const { known, held, gone } = await found(objects, kind, id);
		if (known && !holdsAgainst(word, known)) return false;
		const { deleted, at, by, into } = word;
		const willLie = held || (!deleted && !places[kind].staysAtKey && gone !== undefined);
		const fate: Fate = { deleted, at, by, held: willLie, ...(into !== undefined && { into }) };
		objects.put(fate, fateKey(kind, id));
		if (deleted && held && (gone === undefined || !places[kind].staysAtKey)) {
			if (kind === 'session') burySession(objects, id, nowMs);
			else await putAway(objects, id, nowMs);
			return true;
		}
		if (!deleted && gone !== undefined) {
			if (kind === 'session') raiseSession(objects, id);
			else await takeOut(objects, id);
			return true;
		}
		return false;
	});
}

// Two words of one machine and one moment: the deletion holds, in whatever order they are read.
function holdsAgainst(word: FateWord, known: Fate): boolean {
	if (word.at === known.at && word.by === known.by) return word.deleted && !known.deleted;
	return isLater(word, known);
}
