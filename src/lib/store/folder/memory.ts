import { entriesUnder, keysUnder, read, valueAt, write, type UseStore } from '../database';
import { flat, pathOf, placeOfYear, yearIn, type Place } from './places';

/** A file that could not be taken in, and in which state it was: it is opened again once that changes. */
export interface FileProblem {
	problem: string;
	size: number;
	modifiedMs: number;
	isCut?: true;
}

/** What lay in the folder of a year when it was last listed. */
export interface YearMemory {
	/** All names, those of others too. */
	names: Set<string>;
	/** Epoch ms by the clock of this browser; absent where it was never listed whole. */
	listedMs?: number;
	/** When something was found there last that had not been there before. */
	foundMs?: number;
	/** It is to be kept anew. */
	isChanged: boolean;
}

/** What was read of this folder so far. */
export interface FolderMemory {
	/** What lies in the folder itself. */
	flat: Set<string>;
	years: Map<string, YearMemory>;
	/** Names of sound files, wherever they lie. They never change, so they are never opened again. */
	seen: Set<string>;
	/** By path. */
	problems: Map<string, FileProblem>;
	/** When each machine last signed something in the folder itself, epoch ms: what it signed may be gone, and it still looks. */
	signedMs: Map<string, number>;
	/** Keys of corrections made here that lie in no file yet, though one of the same moment from elsewhere does. */
	unsentEdits: Set<string>;
	/** Sessions of merged cards were handed over since something last came in. */
	isSettled: boolean;
}

/** The names that lie somewhere; a place that is new is made. */
export function namesAt({ flat: inItself, years }: FolderMemory, place: Place): Set<string> {
	if (place === flat) return inItself;
	const year = yearIn(place);
	const known = years.get(year) ?? { names: new Set(), isChanged: true };
	years.set(year, known);
	return known.names;
}

/** Something was done with a file there. */
export function touch({ years }: FolderMemory, place: Place): void {
	const known = years.get(yearIn(place));
	if (known) known.isChanged = true;
}

/**
 * How it is kept. A page that knows no years reads and writes the first member set alone: what it drops of it, the moments
 * of the years, is what makes theirs count, so that after it all years are read anew.
 */
interface KeptMemory {
	seen: Set<string>;
	problems: Map<string, FileProblem>;
	signedMs: Map<string, number>;
	unsentEdits: Set<string>;
	isSettled: boolean;
	years: Map<string, Pick<YearMemory, 'listedMs' | 'foundMs'>>;
}

/** The folder of a year. */
interface KeptYear {
	seen: string[];
	unseen: string[];
	/** By name. */
	problems: Map<string, FileProblem>;
}

const key = 'folder/memory';
const yearKey = (year: string) => `${key}/${year}`;

export async function readMemory(store: UseStore): Promise<FolderMemory> {
	const [stored, ofYears] = await read(store, (objects) =>
		Promise.all([valueAt(objects, key), entriesUnder(objects, yearKey(''))])
	);
	// Written by this page alone and worth nothing but time: where it is no such thing all is read anew.
	const kept = stored as Partial<KeptMemory> | undefined;
	const memory: FolderMemory = {
		flat: kept?.seen instanceof Set ? new Set(kept.seen) : new Set(),
		years: new Map(),
		seen: kept?.seen instanceof Set ? kept.seen : new Set(),
		problems: kept?.problems instanceof Map ? kept.problems : new Map(),
		signedMs: kept?.signedMs instanceof Map ? kept.signedMs : new Map(),
		unsentEdits: kept?.unsentEdits instanceof Set ? kept.unsentEdits : new Set(),
		isSettled: kept?.isSettled === true
	};
	if (kept?.years instanceof Map)
		for (const [yearPath, value] of ofYears)
			takeYear(memory, kept.years, yearPath, value as Partial<KeptYear>);
	return memory;
}

function takeYear(
	memory: FolderMemory,
	moments: KeptMemory['years'],
	storedKey: string,
	{ seen, unseen, problems }: Partial<KeptYear>
): void {
	const year = storedKey.slice(yearKey('').length);
	const known = moments.get(year);
	if (!known || !Array.isArray(seen) || !Array.isArray(unseen)) return;
	memory.years.set(year, { ...known, names: new Set([...seen, ...unseen]), isChanged: false });
	for (const name of seen) memory.seen.add(name);
	for (const [name, problem] of problems ?? []) memory.problems.set(pathOf(placeOfYear(year), name), problem);
}

/** Years of which nothing changed are not written again. */
export function keepMemory(store: UseStore, memory: FolderMemory): Promise<void> {
	const { seen, signedMs, unsentEdits, isSettled } = memory;
	const inPlace = problemsByPlace(memory);
	return write(
		store,
		async (objects) => {
			for (const stored of await keysUnder(objects, yearKey('')))
				if (!memory.years.has(stored.slice(yearKey('').length))) objects.delete(stored);
			const years: KeptMemory['years'] = new Map();
			for (const [year, { names, isChanged, ...moments }] of memory.years) {
				years.set(year, moments);
				if (!isChanged) continue;
				const problems = inPlace.get(placeOfYear(year)) ?? new Map();
				const kept: KeptYear = { seen: [], unseen: [], problems };
				for (const name of names) (seen.has(name) ? kept.seen : kept.unseen).push(name);
				objects.put(kept, yearKey(year));
			}
			const here = new Set([...memory.flat].filter((name) => seen.has(name)));
			const problems = inPlace.get(flat) ?? new Map();
			const kept: KeptMemory = { seen: here, problems, signedMs, unsentEdits, isSettled, years };
			objects.put(kept, key);
		},
		'strict'
	);
}

function problemsByPlace({ problems }: FolderMemory): Map<Place, Map<string, FileProblem>> {
	const found = new Map<Place, Map<string, FileProblem>>();
	for (const [path, problem] of problems) {
		const end = path.lastIndexOf('/');
		const place = path.slice(0, Math.max(end, 0));
		found.set(place, (found.get(place) ?? new Map()).set(path.slice(end + 1), problem));
	}
	return found;
}
