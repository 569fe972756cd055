import { athletePrefix } from './athletes';
import { entriesUnder, isObject, storable, under, write, type UseStore } from './database';
import { deleteFuel } from './fuel';
import type { MeasuredRecord } from '$lib/record/journal';
import type { RecordEdit } from '$lib/record/record';
import { athleteSchema, type Athlete } from '$lib/record/record-schema';

/** Keeps the example gym: athletes and sessions in one transaction. Rejects with `StoreError`. */
export async function keepExample(
	store: UseStore,
	athletes: readonly Athlete[],
	sessions: readonly { record: MeasuredRecord; edit?: RecordEdit }[]
): Promise<void> {
	const kept = athletes.map((athlete) => storable(athleteSchema, athlete, 'The example'));
	await write(store, (objects) => {
		for (const athlete of kept) objects.put(athlete, athletePrefix + athlete.id);
		for (const { record, edit } of sessions) {
			const { body, ...listed } = record;
			objects.put(listed, `head/${record.head.id}`);
			objects.put(body, `body/${record.head.id}`);
			if (edit) objects.put(edit, `edit/${record.head.id}/${edit.at}`);
		}
	});
}

/** Removes everything that is marked as an example, for good, in one transaction. Rejects with `StoreError`. */
export function removeExample(store: UseStore): Promise<void> {
	return write(store, async (objects) => {
		for (const [key, athlete] of await entriesUnder(objects, athletePrefix))
			if (isObject(athlete) && athlete.example === true) {
				objects.delete(key);
				deleteFuel(objects, key.slice(athletePrefix.length));
			}
		for (const [key, stored] of await entriesUnder(objects, 'head/')) {
			if (!isObject(stored) || !isObject(stored.head) || stored.head.example !== true) continue;
			const id = key.slice('head/'.length);
			for (const gone of [key, `body/${id}`, under(`edit/${id}/`), `tombstone/${id}`]) objects.delete(gone);
		}
	});
}
