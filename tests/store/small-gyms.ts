import fc from '../by-chance';
import { edits, records } from './arbitraries';
import { padsPlan } from './builders';
import { freshStore, plant } from './fresh-store';
import { iso, noonMs } from './laptop';
import { savePlanAndFuel } from './plan-and-fuel';
import { makeEntry } from '../review/training-days';
import type { SessionRecord } from '$lib/record/body';
import type { RecordEdit } from '$lib/record/edit';
import { saveAthlete } from '$lib/store/athletes';
import type { UseStore } from '$lib/store/database';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { logFuel } from '$lib/store/fuel';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { openJournal } from '$lib/store/journal';
import { deletePlan, savePlan } from '$lib/store/plans';
import { deleteSession } from '$lib/store/sessions';

/** What is kept of a small gym, as far as a restore has to hold things together. */
export interface Gym {
	/** The athlete that the page made at the first visit, whom nobody has touched. */
	hasStandIn: boolean;
	athletes: { isDeleted: boolean; isSaidOf: boolean; days: number }[];
	sessions: { record: SessionRecord; notes: Partial<RecordEdit>[]; isDeleted: boolean; athlete: number }[];
	plans: { isRemoved: boolean }[];
}

export const gyms: fc.Arbitrary<Gym> = fc.record({
	hasStandIn: fc.boolean(),
	athletes: fc.array(
		fc.record({ isDeleted: fc.boolean(), isSaidOf: fc.boolean(), days: fc.integer({ min: 0, max: 3 }) }),
		{ maxLength: 3 }
	),
	sessions: fc.array(
		fc.record({
			record: records,
			notes: fc.array(edits, { maxLength: 3 }),
			isDeleted: fc.boolean(),
			athlete: fc.integer({ min: 0, max: 2 })
		}),
		{ maxLength: 5 }
	),
	plans: fc.array(fc.record({ isRemoved: fc.boolean() }), { maxLength: 2 })
});

/** The store of a laptop of such a gym, filled by the verbs of the page. */
export async function opened({ hasStandIn, athletes, sessions, plans }: Gym): Promise<UseStore> {
	const store = freshStore();
	for (const [i, { isSaidOf, days }] of athletes.entries()) {
		const card = { id: `ath-${i}`, name: `Boxer ${i}` };
		const kept = await saveAthlete(store, card, undefined, noonMs - 9000);
		if (isSaidOf) await saveAthlete(store, { ...kept!, thresholdBpm: 170 + i }, kept, noonMs - 8000);
		for (let day = 1; day <= days; day++) {
			await saveDay(store, card.id, `2026-03-0${day}`, { changed: { entries: [makeEntry()] } });
			await logFuel(store, 'weight', card.id, `2026-03-0${day}`, day === 3 ? undefined : 60 + day);
		}
	}
	for (const [i, { record, notes, athlete, isDeleted }] of sessions.entries()) {
		const id = `rec-${i}`;
		const head = { ...record.head, id, athlete: { ...record.head.athlete, athleteId: `ath-${athlete}` } };
		await openJournal(store, id).finish([{ ...record, head }]);
		for (const [at, note] of notes.entries())
			await addEdit(store, id, { ...note, at: iso(noonMs - 5000 + at) });
		if (isDeleted) await deleteSession(store, id, noonMs);
	}
	for (const [i, { isDeleted }] of athletes.entries())
		if (isDeleted) await deleteAthlete(store, `ath-${i}`, noonMs);
	for (const [i, { isRemoved }] of plans.entries()) {
		await savePlan(store, { id: `plan-${i}`, plan: { ...padsPlan, roundCount: 1 + i } }, noonMs - 3000);
		if (isRemoved) await deletePlan(store, `plan-${i}`, noonMs - 2000);
	}
	if (hasStandIn) await plant(store, 'athlete/zoe', { id: 'zoe', name: 'Me' });
	await savePlanAndFuel(store);
	await plant(store, 'camp/one', { weeks: 8 });
	return store;
}
