import { athletePrefix } from './athlete-list';
import { addCard, removeCard } from './athletes';
import { entriesUnder, isObject, write, type UseStore } from './database';
import { dayKey, type TrainingDay } from '$lib/record/day';
import { changeDay, removeDays } from './days';
import { removeFuel } from './fuel';
import { putEdit } from './edits';
import { putSession, removeSession } from './sessions';
import { mendTrainings } from './trainings';
import type { MeasuredRecord } from '$lib/record/journal';
import type { RecordEdit } from '$lib/record/edit';
import type { Athlete } from '$lib/record/athlete';

/** Keeps the example gym: athletes and sessions in one transaction. Rejects with `StoreError`. */
export async function keepExample(
	store: UseStore,
	athletes: readonly Athlete[],
	sessions: readonly { record: MeasuredRecord; edit?: RecordEdit }[],
	days: readonly { athleteId: string; date: string; day: TrainingDay }[] = []
): Promise<void> {
	await write(store, async (objects) => {
		for (const athlete of athletes) addCard(objects, athlete);
		for (const { record, edit } of sessions) {
			putSession(objects, record, 'put');
			if (edit) await putEdit(objects, record.head.id, edit);
		}
		for (const { athleteId, date, day } of days) {
			objects.delete(dayKey(athleteId, date));
			await changeDay(objects, athleteId, date, { changed: day }, Date.now());
		}
	});
}

/** Removes everything that is marked as an example, for good, in one transaction. Rejects with `StoreError`. */
export async function removeExample(store: UseStore): Promise<void> {
	await write(store, async (objects) => {
		for (const [key, athlete] of await entriesUnder(objects, athletePrefix))
			if (isObject(athlete) && athlete.example === true) {
				removeCard(objects, key.slice(athletePrefix.length));
				removeFuel(objects, key.slice(athletePrefix.length));
				removeDays(objects, key.slice(athletePrefix.length));
			}
		for (const [key, stored] of await entriesUnder(objects, 'head/'))
			if (isObject(stored) && isObject(stored.head) && stored.head.example === true)
				removeSession(objects, key.slice('head/'.length));
	});
	// Gone they are by now; what lists by day keep of them is looked up again before it is read.
	await mendTrainings(store).catch(() => undefined);
}
