import { write, type UseStore } from './database';
import { changeDay, dayIn } from './days';
import { readTrainings } from './trainings';
import { nextTask } from './breathe';
import type { Tell } from './breathe';
import { dayOf } from '$lib/record/athlete-changes';
import { dayKey, shownDay, withEntry, type TrainingDay } from '$lib/record/day';
import type { TableEntry } from '$lib/review/register-csv';
import { daysAfter, trainingsByDate } from '$lib/review/weeks';

const atATime = 100;

/**
 * Takes the rows of a table into the register. What stands there already, as an entry or as a session with a strap, is taken
 * no second time, so the same file may come twice. `tell` may call it off: what was taken by then stays. Answers how many
 * rows were new. Rejects with `StoreError`.
 */
export async function takeTable(
	store: UseStore,
	entries: readonly TableEntry[],
	tell: Tell,
	nowMs = Date.now()
): Promise<number> {
	const dates = entries.map(({ date }) => date).sort();
	const from = new Date(`${dates[0] ?? dayOf(new Date(nowMs))}T00:00`);
	const until = daysAfter(new Date(`${dates.at(-1) ?? dayOf(new Date(nowMs))}T00:00`), 1);
	const byDate = trainingsByDate(await readTrainings(store, from, until));
	let count = 0;
	for (let first = 0; first < entries.length; first += atATime) {
		await write(store, async (objects) => {
			for (const entry of entries.slice(first, first + atATime)) {
				const { athleteId, date, training } = entry;
				const before = shownDay(await dayIn(objects, dayKey(athleteId, date)));
				const strapped = (byDate.get(date) ?? []).filter((one) => one.athleteId === athleteId);
				const isHere = [...before.entries, ...strapped].some(
					({ activity, minutes }) =>
						training && activity === training.activity && Math.round(minutes) === Math.round(training.minutes)
				);
				if (training ? isHere : before.rest || before.entries.length > 0) continue;
				const changed: TrainingDay = training
					? withEntry(before, { id: entryId(training), ...training, madeAt: new Date(nowMs).toISOString() })
					: { ...before, rest: true };
				await changeDay(objects, athleteId, date, { before, changed }, nowMs);
				count++;
			}
		});
		await nextTask();
		tell(Math.min(1, (first + atATime) / entries.length));
	}
	return count;
}

/** One row of one table has one id wherever it is taken in: two laptops that take the same file have the same entry. */
function entryId({ activity, minutes }: { activity: string; minutes: number }): string {
	const word = activity.toLowerCase().replaceAll(/[^a-z\d]+/g, '-');
	return `table-${word}-${minutes}`.slice(0, 64);
}
