import { entriesUnder, read, valueAt, write } from './database';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import { check, type Checked } from '$lib/record/check';
import type { Unreadable, UseStore } from './database';

export const athletePrefix = 'athlete/';

export interface AthleteList {
	/** At least one, by name. */
	athletes: Athlete[];
	unreadable: Unreadable[];
}

/**
 * Everybody who boxes here. Where nobody can be read yet, one athlete called "Me" is made and kept, so that
 * the first session needs no form. What cannot be read is named and stays. Rejects with `StoreError`.
 */
export async function listAthletes(
	store: UseStore,
	newId: () => string = () => crypto.randomUUID()
): Promise<AthleteList> {
	const known = await read(store, readAthletes);
	if (known.athletes.length > 0) return known;
	return write(store, async (objects) => {
		// Looked up again: a second tab may have made one in the meantime.
		const list = await readAthletes(objects);
		if (list.athletes.length > 0) return list;
		const athlete: Athlete = { id: newId(), name: 'Me' };
		objects.add(athlete, athletePrefix + athlete.id);
		return { ...list, athletes: [athlete] };
	});
}

/** One athlete; a problem where the entry is missing or damaged. Rejects with `StoreError`. */
export async function getAthlete(store: UseStore, id: string): Promise<Checked<Athlete>> {
	const stored = await read(store, (objects) => valueAt(objects, athletePrefix + id));
	return stored === undefined
		? { problem: 'There is no such athlete in this browser.' }
		: check(athleteSchema, stored);
}

async function readAthletes(objects: IDBObjectStore): Promise<AthleteList> {
	const athletes: Athlete[] = [];
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of await entriesUnder(objects, athletePrefix)) {
		const { value, problem } = check(athleteSchema, stored);
		if (value) athletes.push(value);
		else unreadable.push({ key, problem });
	}
	athletes.sort((a, b) => a.name.localeCompare(b.name));
	return { athletes, unreadable };
}
