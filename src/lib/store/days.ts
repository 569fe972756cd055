import { entriesIn, keysUnder, read, storable, StoreError, under, valueAt, write } from './database';
import type { Unreadable, UseStore } from './database';
import { machineIn } from './machine';
import {
	changedDay,
	checkedDay,
	dayKey,
	emptyDay,
	shownDay,
	trainingDaySchema,
	withEntry,
	type DayEntry,
	type StoredDay,
	type TrainingDay
} from '$lib/record/day';
import { daySchema } from '$lib/record/check';
import { joined, signedAnew } from '$lib/record/registers';
import { isSame } from '$lib/record/same';

export const dayPrefix = 'day/';

/** Months with something that was entered here and lies in no file of the shared folder yet. */
export const unsentPrefix = 'shared/days/';

export const unsentKey = (athleteId: string, date: string) =>
	`${unsentPrefix}${athleteId}/${date.slice(0, 'YYYY-MM'.length)}`;

/** Days of one athlete by date (YYYY-MM-DD). One that is absent is unknown. */
export interface DaysOfAthlete {
	days: Map<string, TrainingDay>;
	unreadable: Unreadable[];
}

/**
 * What some athletes entered from one date to another, both included (YYYY-MM-DD), by athlete. What cannot be read is named
 * and stays. Rejects with `StoreError`.
 */
export async function readDays(
	store: UseStore,
	athleteIds: readonly string[],
	from: string,
	to: string
): Promise<Map<string, DaysOfAthlete>> {
	const found = await read(store, (objects) =>
		Promise.all(
			athleteIds.map(async (id): Promise<[string, unknown][]> => {
				const key = dayKey(id, from);
				// One day of everybody, as the register wants it, is one question for each instead of two.
				if (from === to) return [[key, await valueAt(objects, key)]];
				return entriesIn(objects, IDBKeyRange.bound(key, dayKey(id, to)));
			})
		)
	);
	return new Map(found.map((entries, i) => [athleteIds[i]!, daysIn(entries)]));
}

function daysIn(entries: readonly [string, unknown][]): DaysOfAthlete {
	const days = new Map<string, TrainingDay>();
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of entries) {
		if (stored === undefined) continue;
		const { value, problem } = checkedDay(stored);
		if (value) days.set(key.split('/')[2] ?? '', shownDay(value));
		else unreadable.push({ key, problem });
	}
	return { days, unreadable };
}

/**
 * Keeps what was changed of a day by hand. What another window or laptop entered meanwhile stays. Answers the day as it
 * lies here now. Rejects with `StoreError`.
 *
 * @param before what the change was made to
 */
export function saveDay(
	store: UseStore,
	athleteId: string,
	date: string,
	{ before = emptyDay, changed }: { before?: TrainingDay; changed: TrainingDay },
	nowMs = Date.now()
): Promise<TrainingDay> {
	return write(store, (objects) => changeDay(objects, athleteId, date, { before, changed }, nowMs));
}

/** The same in a transaction that runs. */
export async function changeDay(
	objects: IDBObjectStore,
	athleteId: string,
	date: string,
	{ before = emptyDay, changed }: { before?: TrainingDay; changed: TrainingDay },
	nowMs: number
): Promise<TrainingDay> {
	const key = dayKey(athleteId, storable(daySchema, date, 'The day'));
	const own = storable(trainingDaySchema, changed, 'The day');
	const stored = await dayIn(objects, key);
	const next = changedDay(stored, before, own, { ms: nowMs, by: await machineIn(objects) });
	putDay(objects, key, next);
	return shownDay(next);
}

/** Adds an entry to a day, or puts it in place of the one with its id; in a transaction that runs. */
export async function enterInDay(
	objects: IDBObjectStore,
	athleteId: string,
	date: string,
	entry: DayEntry
): Promise<void> {
	const before = shownDay(await dayIn(objects, dayKey(athleteId, date)));
	await changeDay(objects, athleteId, date, { before, changed: withEntry(before, entry) }, Date.now());
}

/**
 * Takes over what was entered of a day elsewhere. Answers whether it says anything that was not known here. Rejects with
 * `StoreError` where that comes to no sound day.
 */
export async function joinDay(objects: IDBObjectStore, key: string, coming: StoredDay): Promise<boolean> {
	const known = await dayIn(objects, key);
	const mine = signedAnew(known, coming, await machineIn(objects));
	const both = joined(mine, coming);
	if (isSame(both, known)) return false;
	if (isSame(mine, known)) storeDay(objects, key, both);
	else putDay(objects, key, both);
	return true;
}

/** Puts a whole day and notes that the shared folder has yet to be told; in a transaction that runs. */
export function putDay(objects: IDBObjectStore, key: string, day: StoredDay): void {
	storeDay(objects, key, day);
	const [, athleteId = '', date = ''] = key.split('/');
	objects.put(true, unsentKey(athleteId, date));
}

function storeDay(objects: IDBObjectStore, key: string, day: StoredDay): void {
	const { value, problem } = checkedDay(day);
	if (!value) throw new StoreError('failed', `The day was not stored. ${problem}`);
	objects.put(value, key);
}

/** What lies at a day's key; nothing where nothing does. One that cannot be read is not written over. */
export async function dayIn(objects: IDBObjectStore, key: string): Promise<StoredDay> {
	const stored = await valueAt(objects, key);
	if (stored === undefined) return {};
	const { value, problem } = checkedDay(stored);
	if (!value) throw new StoreError('failed', `The day that lies here cannot be read. ${problem}`);
	return value;
}

/** Removes for good all days of an athlete, in a transaction that runs. */
export function removeDays(objects: IDBObjectStore, athleteId: string): void {
	for (const prefix of [dayPrefix, unsentPrefix]) objects.delete(under(`${prefix}${athleteId}/`));
}

/** Gives the days of one card to another one, joined to those there; in a transaction that runs. */
export async function moveDays(objects: IDBObjectStore, fromId: string, toId: string): Promise<void> {
	for (const key of await keysUnder(objects, `${dayPrefix}${fromId}/`)) {
		const date = key.split('/')[2] ?? '';
		const isNews = await joinDay(objects, dayKey(toId, date), await dayIn(objects, key));
		if (isNews) objects.put(true, unsentKey(toId, date));
	}
	removeDays(objects, fromId);
}
