import { entriesUnder, read, storable, valueAt, write } from './database';
import { jsonText } from './plain-json';
import { athleteSchema, check } from '$lib/record/record-schema';
import type { Unreadable, UseStore } from './database';
import type { Athlete, Checked } from '$lib/record/record-schema';

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

/**
 * Keeps an athlete, in place of the one with the same id. Where it is told which card was changed, what changed since
 * alone is written, so that what another window wrote meanwhile stays. Answers what lies here now; undefined, and
 * nothing is written, where the changed card is gone. Rejects with `StoreError`.
 */
export async function saveAthlete(
	store: UseStore,
	athlete: Athlete,
	before?: Athlete
): Promise<Athlete | undefined> {
	const own = storable(athleteSchema, athlete, 'The athlete');
	return write(store, async (objects) => {
		const key = athletePrefix + athlete.id;
		const present = before && ((await valueAt(objects, key)) as Athlete | undefined);
		if (before && !present) return undefined;
		const whole = { ...present, ...(before ? changedMembers(before, own) : own) };
		const stored = storable(athleteSchema, whole as Athlete, 'The athlete');
		objects.put(stored, key);
		return stored;
	});
}

/** The members that differ, as they are in `changed`: undefined where one was taken away. */
export function changedMembers(before: Athlete, changed: Athlete): Partial<Athlete> {
	const names = Object.keys({ ...before, ...changed }) as (keyof Athlete)[];
	const differing = names.filter((name) => jsonText(before[name]) !== jsonText(changed[name]));
	return Object.fromEntries(differing.map((name) => [name, changed[name]]));
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
