import { describe, expect, it } from 'vitest';
import { getAthlete, listAthletes, saveAthlete } from '$lib/store/athletes';
import { keepExample, removeExample } from '$lib/store/example';
import { countSessionsOf, deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { openJournal } from '$lib/store/journal';
import { addEdit, deleteSession, listSessions, purgeDeleted } from '$lib/store/sessions';
import { makeRecord } from './builders';
import { allKeys, freshStore } from './fresh-store';

const ath = { id: 'ath-1', name: 'Nerea' };
const ids = async (store: ReturnType<typeof freshStore>) =>
	(await listSessions(store)).sessions.map(({ head }) => head.id).sort();

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
		expect(await allKeys(store)).toEqual(['gone-athlete/ath-1']);
		await purgeAthletes(store, 500, 1500);
		expect(await allKeys(store)).toEqual([]);
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
		await removeExample(store);
		expect(await allKeys(store)).toEqual(before);
	});
});
