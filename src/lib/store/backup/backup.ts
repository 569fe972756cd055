import { backupText, type BackupPart } from './form';
import { envelope, isSession, isWithin, soundUnit, sum, unitsOf, type Size, type Unit } from './units';
import { breathing, inBreaths, type Tell } from '../breathe';
import { keysUnder, read, valueAt, type Unreadable, type UseStore } from '../database';
import { jsonText } from '../plain-json';
import { dayOf } from '$lib/record/athlete-changes';
import { staysHere } from '$lib/record/kinds';

/**
 * What is put into one file at most: three fifths of what is read back, so that a page that has grown a little still reads it,
 * and a browser can hold it. Some 1,300 hours with every RR interval.
 */
export const mostOfPart: Size = { characters: 120_000_000, entries: 120_000, values: 7_200_000 };

/** A file of a backup: all of it, or one part. */
export interface MadeBackup {
	text: string;
	/** By the day here: `corner-minute-backup-2026-11-30.json`, or of a part `corner-minute-backup-2026-11-30-part-2.json`. */
	fileName: string;
	/** Absent where everything is in this file. */
	part?: BackupPart;
	/** In this file and the parts before it. */
	sessionCount: number;
	athleteCount: number;
	/** Sessions that are in no file yet. */
	sessionsToCome: number;
	/** What could not be read of all that was looked at up to now, and so is in no file; it stays where it is. */
	leftOut: Unreadable[];
	/** Makes the part that follows; absent after the last. Where it was called off or failed it can be asked again. */
	next?: (tell: Tell) => Promise<MadeBackup>;
}

/**
 * Everything that is kept, as one JSON text: sessions with their later entries and those deleted within the
 * day, athletes, own plans, settings, weight and food. Sessions that still run are not in it. What the text
 * holds is sure to be read back; kinds that a later version of this page has put here are carried along. Where `most` is
 * too little for it, this is part 1 and `next` makes the others: each is a backup by itself, and restored in whatever order
 * they come to the whole. Sessions stand behind all else, and are read as they are needed; one that is purged meanwhile is passed over, and what is new meanwhile is
 * not in it. What belongs together is in one part, even where it alone is more than `most`. `tell` may call it off. Rejects with
 * `StoreError`.
 *
 * @param now when it is made
 * @param most what goes into one file
 */
export async function makeBackup(
	store: UseStore,
	now: Date,
	most: Size,
	tell: Tell = () => undefined
): Promise<MadeBackup> {
	const keys = await read(store, (objects) => keysUnder(objects, ''));
	const units = unitsOf(keys.filter((key) => !staysHere(key)));
	const start = { units, number: 1, sessionCount: 0, athleteCount: 0, leftOut: [] };
	return madePart({ store, now, most }, start, tell);
}

/** What holds for all parts. */
interface Making {
	store: UseStore;
	now: Date;
	most: Size;
}

/** Where a part begins. */
interface From {
	/** Read for the part before, where it had no room. */
	first?: Unit;
	/** Keys of what was not looked at yet. */
	units: readonly (readonly string[])[];
	number: number;
	sessionCount: number;
	athleteCount: number;
	leftOut: readonly Unreadable[];
}

async function madePart(making: Making, from: From, tell: Tell): Promise<MadeBackup> {
	const { store, now, most } = making;
	const { number } = from;
	const { entries, leftOut, first, units } = await filled(store, most, from, tell);
	const count = (prefix: string) => entries.filter(([key]) => key.startsWith(prefix)).length;
	const soFar = {
		sessionCount: from.sessionCount + count('head/'),
		athleteCount: from.athleteCount + count('athlete/'),
		leftOut: [...from.leftOut, ...leftOut]
	};
	const sessionsToCome = [...(first ? [first.entries.map(([key]) => key)] : []), ...units].filter(isSession);
	const part = first || number > 1 ? { number, isLast: !first } : undefined;
	// In order of the keys, whatever the parts are.
	const sorted = new Map(entries.sort(([one], [other]) => (one < other ? -1 : 1)));
	return {
		text: backupText(now.toISOString(), sorted, part),
		fileName: `corner-minute-backup-${dayOf(now)}${part ? `-part-${number}` : ''}.json`,
		...(part && { part }),
		...soFar,
		sessionsToCome: sessionsToCome.length,
		...(first && {
			next: (tell: Tell) => madePart(making, { first, units, number: number + 1, ...soFar }, tell)
		})
	};
}

/** What goes into one file, and what is read already and has to wait for the next, with all that was not looked at. */
async function filled(store: UseStore, most: Size, { first, units }: From, tell: Tell) {
	const entries = [...(first?.entries ?? [])];
	let leftOut: Unreadable[] = [];
	let size = first ? sum(envelope, first.size) : envelope;
	let looked = 0;
	const breathe = breathing(tell);
	const told = (share: number) => breathe(Math.max(share, Math.min(1, size.characters / most.characters)));
	for await (const some of inBreaths(units, told))
		for await (const values of valuesOf(store, some)) {
			looked++;
			const unit = soundUnit(values);
			leftOut = leftOut.concat(unit.leftOut);
			if (unit.entries.length === 0) continue;
			const together = sum(size, unit.size);
			if (entries.length > 0 && !isWithin(together, most))
				return { entries, leftOut, first: unit, units: units.slice(looked) };
			// Not one argument for each: of a hundred thousand the engine's stack is full.
			for (const entry of unit.entries) entries.push(entry);
			size = together;
		}
	return { entries, leftOut, units: [] };
}

/** So many are in memory at once: the longest session takes some 20 MB. */
const readAtOnce = 10;

async function* valuesOf(store: UseStore, units: readonly (readonly string[])[]) {
	const pairs = (objects: IDBObjectStore, keys: readonly string[]) =>
		Promise.all(keys.map(async (key) => [key, await valueAt(objects, key)] as const));
	for (let i = 0; i < units.length; i += readAtOnce) {
		const some = units.slice(i, i + readAtOnce);
		yield* await read(store, (objects) => Promise.all(some.map((keys) => pairs(objects, keys))));
	}
}

/**
 * An entry that cannot be read, as text for whoever wants to look into it: what lies there, as far as JSON can
 * tell it; of a session everything that belongs to it. Rejects with `StoreError`.
 */
export async function rawText(store: UseStore, key: string): Promise<string> {
	const [kind, id] = key.split('/');
	const found = await read(store, async (objects) => {
		if (kind !== 'head' && kind !== 'body') return [[key, await valueAt(objects, key)] as const];
		const keys = [`head/${id}`, `body/${id}`, ...(await keysUnder(objects, `edit/${id}/`))];
		return Promise.all(keys.map(async (one) => [one, await valueAt(objects, one)] as const));
	});
	const entries = found.map(([one, value]) => [one, tellable(value)]);
	return jsonText({ format: 'corner-minute raw entry', entries });
}

/** A value if JSON can tell it; what it calls itself where it goes in circles or holds what JSON does not know. */
function tellable(value: unknown): unknown {
	try {
		jsonText(value);
		return value ?? null;
	} catch {
		return { unreadableAs: 'JSON', whatItIs: Object.prototype.toString.call(value) };
	}
}
