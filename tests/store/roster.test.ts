import { describe, expect, it } from 'vitest';
import { getAthlete, listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { keepExample, removeExample } from '$lib/store/example';
import { countSessionsOf, deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { takeFate } from '$lib/store/folder/fates';
import { logFuel, saveGoal } from '$lib/store/fuel';
import type { UseStore } from '$lib/store/database';
import { openJournal } from '$lib/store/journal';
import { addEdit } from '$lib/store/edits';
import { deleteSession, listSessions, purgeDeleted } from '$lib/store/sessions';
import { makeRecord } from './builders';
import { allKeys, freshStore } from './fresh-store';

const ath = { id: 'ath-1', name: 'Nerea' };
async function logAll(store: UseStore, id: string): Promise<void> {
	await logFuel(store, 'weight', id, '2026-03-01', 61);
	await logFuel(store, 'intake', id, '2026-03-01', 2350);
	await saveGoal(store, id, { kg: 60, date: '2026-05-01' });
}
const keysOf = async (store: UseStore, id: string) =>
	(await allKeys(store)).filter((key) => key.split('/').includes(id));
/** Else a shared folder would bring it back. */
const onlyThatItIsGone = ['shared/athlete/ath-1'];
const ids = async (store: UseStore) => (await listSessions(store)).sessions.map(({ head }) => head.id).sort();

describe('deleting an athlete', () => {
	it('takes their sessions along, nobody else’s, and can be undone', async () => {
		const store = freshStore();
		await saveAthlete(store, ath);
		await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
		await openJournal(store, 's').finish([
			makeRecord({ id: 'a' }),
			makeRecord({ id: 'b' }),
			makeRecord({ id: 'c', athlete: { athleteId: 'ath-2', name: 'Bo' } })
		]);
		expect(await countSessionsOf(store, 'ath-1')).toBe(2);
		expect(await deleteAthlete(store, 'ath-1')).toBe(2);
		expect(await ids(store)).toEqual(['c']);
		expect((await listAthletes(store)).athletes.map(({ id }) => id)).toEqual(['ath-2']);
		await restoreAthlete(store, 'ath-1');
		expect(await ids(store)).toEqual(['a', 'b', 'c']);
		expect(await getAthlete(store, 'ath-1')).toEqual({ value: ath });
	});

	it('leaves a session alone that was deleted before, by itself, also when it is undone', async () => {
		const store = freshStore();
		await saveAthlete(store, ath);
		await openJournal(store, 's').finish([makeRecord({ id: 'a' }), makeRecord({ id: 'b' })]);
		await deleteSession(store, 'a', 1000);
		expect(await countSessionsOf(store, 'ath-1')).toBe(1);
		expect(await deleteAthlete(store, 'ath-1', 1800)).toBe(1);
		await restoreAthlete(store, 'ath-1');
		expect(await ids(store)).toEqual(['b']);
		// Its own day runs from its own deletion.
		expect(await purgeDeleted(store, 500, 1500)).toBe(1);
	});
});

describe('a session that was put right to be another athlete’s', () => {
	it('goes with that athlete and stays when the one it was noted for is deleted', async () => {
		const store = freshStore();
		await saveAthlete(store, ath);
		await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
		await openJournal(store, 's').finish([makeRecord({ id: 'a' }), makeRecord({ id: 'b' })]);
		await addEdit(store, 'b', { at: '2026-03-03T08:00:00.000Z', athlete: { id: 'ath-2', name: 'Bo' } });
		await addEdit(store, 'b', { at: '2026-03-03T09:00:00.000Z', note: 'gloves off' });
		expect(await deleteAthlete(store, 'ath-1')).toBe(1);
		expect(await ids(store)).toEqual(['b']);
		await restoreAthlete(store, 'ath-1');
		expect(await deleteAthlete(store, 'ath-2')).toBe(1);
		expect(await ids(store)).toEqual(['a']);
	});
});

describe('a deleted athlete', () => {
	it('is gone for good after a day, and not before', async () => {
		const store = freshStore();
		await saveAthlete(store, ath);
		await deleteAthlete(store, 'ath-1', 1000);
		await purgeAthletes(store, 500, 1499);
		expect(await allKeys(store)).toContain('gone-athlete/ath-1');
		await purgeAthletes(store, 500, 1500);
		expect(await keysOf(store, 'ath-1')).toEqual(onlyThatItIsGone);
	});

	it('takes along weight, food and goal when it goes for good, and nobody else’s', async () => {
		const store = freshStore();
		for (const id of ['ath-1', 'ath-10']) {
			await saveAthlete(store, { ...ath, id });
			await logAll(store, id);
		}
		await deleteAthlete(store, 'ath-1', 1000);
		const before = await allKeys(store);
		await purgeAthletes(store, 500, 1499);
		expect(await allKeys(store), 'until then it can be brought back').toEqual(before);
		await purgeAthletes(store, 500, 1500);
		expect(await keysOf(store, 'ath-1')).toEqual(onlyThatItIsGone);
		expect(await keysOf(store, 'ath-10')).toEqual(
			expect.arrayContaining([
				'athlete/ath-10',
				'goal/ath-10/weight',
				'intake/ath-10/2026-03-01',
				'weight/ath-10/2026-03-01'
			])
		);
	});

	it('leaves what was logged where its card is here again, or was merged into one that is still to come', async () => {
		const store = freshStore();
		for (const id of ['here', 'merged']) {
			await saveAthlete(store, { ...ath, id });
			await deleteAthlete(store, id, 1000);
			await logAll(store, id);
		}
		await saveAthlete(store, { ...ath, id: 'here' });
		const word = { deleted: true, at: '2026-03-01T08:00:00.000Z', by: 'b', into: 'kept' };
		await takeFate(store, 'athlete', 'merged', word, 1000);
		const before = await allKeys(store);
		await purgeAthletes(store, 500, 1500);
		expect(await allKeys(store)).toEqual(before.filter((key) => !key.startsWith('gone-athlete/')));
	});
});

describe('the example', () => {
	it('goes in one step and leaves everything else', async () => {
		const store = freshStore();
		await saveAthlete(store, ath);
		await openJournal(store, 's').finish([makeRecord({ id: 'own' })]);
		const before = await allKeys(store);
		await keepExample(
			store,
			[{ id: 'ex', name: 'Ilka', example: true }],
			[
				{
					record: makeRecord({ id: 'ex-1', practice: true, example: true }),
					edit: { at: '2026-03-02T19:30:00.000Z', effort: 6 }
				}
			]
		);
		expect(await ids(store)).toEqual(['ex-1', 'own']);
		await logAll(store, 'ex');
		await removeExample(store);
		expect(await allKeys(store)).toEqual(before);
	});
});
