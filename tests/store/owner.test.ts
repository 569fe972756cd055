import { beforeEach, describe, expect, it } from 'vitest';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';
import { ownerOf } from '$lib/record/put-right';
import { write, type UseStore } from '$lib/store/database';
import { addEdit } from '$lib/store/edits';
import { countSessionsOf, deleteAthlete } from '$lib/store/gone-athletes';
import { openJournal } from '$lib/store/journal';
import { readOwner } from '$lib/store/owner';
import { idsOfAthlete, orderOfSessions } from '$lib/store/session-index';
import { listSessions } from '$lib/store/sessions';

let store: UseStore;
beforeEach(async () => {
	store = freshStore();
	await openJournal(store, 's').finish([
		makeRecord({ id: 'rec-1', athlete: { athleteId: 'ath-1', name: 'Nerea' } })
	]);
});

const putRight = (at: string, id: string, name: string) =>
	addEdit(store, 'rec-1', { at, athlete: { id, name } });

describe('whose a session is', () => {
	it('is the same wherever it is asked for, whatever else was put right', async () => {
		await putRight('2026-03-03T10:00:00.000Z', 'ath-2', 'Bo');
		await addEdit(store, 'rec-1', { at: '2026-03-04T10:00:00.000Z', title: 'Pads' });
		// Nobody can read this one, so it puts nothing right.
		const damaged = { at: '2026-03-05T10:00:00.000Z', athlete: { id: 'ath-3', name: 7 } };
		await write(store, (objects) => void objects.put(damaged, `edit/rec-1/${damaged.at}`));

		const [listed] = (await listSessions(store)).sessions;
		expect(ownerOf(listed!.head.athlete, listed!.edit)).toEqual({ id: 'ath-2', name: 'Bo' });
		expect(await readOwner(store, 'rec-1')).toMatchObject({
			recordedId: 'ath-1',
			ownerId: 'ath-2',
			name: 'Bo'
		});
		const order = await orderOfSessions(store, freshStore());
		for (const [id, sessions] of [
			['ath-1', []],
			['ath-2', ['rec-1']],
			['ath-3', []]
		] as const) {
			expect(await idsOfAthlete(store, order, id)).toEqual(sessions);
			expect(await countSessionsOf(store, id)).toBe(sessions.length);
		}
	});

	it('is known of one whose head is damaged elsewhere, so that it goes where its athlete goes', async () => {
		const head = { athlete: { athleteId: 'ath-1', name: 'Nerea' }, endedMs: 'long' };
		await write(store, (objects) => void objects.put({ head }, 'head/rec-1'));
		expect(await deleteAthlete(store, 'ath-1')).toBe(1);
	});
});
