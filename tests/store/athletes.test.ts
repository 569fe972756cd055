import { describe, expect, it } from 'vitest';
import { allKeys, freshStore, plant } from './fresh-store';
import { getAthlete, listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import type { Athlete } from '$lib/record/athlete';

const nerea: Athlete = {
	id: 'ath-1',
	name: 'Nerea',
	birthYear: 1999,
	thresholdBpm: 171.5,
	thresholdDate: '2026-02-20',
	thresholdSource: 'run',
	measuredMaxBpm: 193,
	slowingMedicine: true,
	strapName: 'Strap 14C2'
};

describe('athletes', () => {
	it('begin with one called Me, made once however many ask', async () => {
		const store = freshStore();
		const ids = ['first', 'second'];
		const [one, other] = await Promise.all([
			listAthletes(store, () => ids.shift()!),
			listAthletes(store, () => ids.shift()!)
		]);
		expect(one).toEqual({ athletes: [{ id: 'first', name: 'Me' }], unreadable: [] });
		expect(other).toEqual(one);
		expect(await listAthletes(store)).toEqual(one);
		expect(await allKeys(store)).toEqual(['athlete/first']);
	});

	it('get an id of their own by default', async () => {
		const { athletes } = await listAthletes(freshStore());
		expect(athletes[0]!.id).toMatch(/^[\da-f-]{36}$/);
	});

	it('come back as they were saved, the unknown left unknown', async () => {
		const store = freshStore();
		await saveAthlete(store, nerea);
		await saveAthlete(store, { id: 'ath-2', name: 'Adem' });
		expect(await getAthlete(store, 'ath-1')).toStrictEqual({ value: nerea });
		expect(await listAthletes(store)).toStrictEqual({
			athletes: [{ id: 'ath-2', name: 'Adem' }, nerea],
			unreadable: []
		});
	});

	it('that cannot be read are named and kept, and somebody can still box', async () => {
		const store = freshStore();
		await plant(store, 'athlete/torn', { ...nerea, thresholdBpm: -4 });
		const { athletes, unreadable } = await listAthletes(store, () => 'new');
		expect(athletes).toEqual([{ id: 'new', name: 'Me' }]);
		expect(unreadable).toEqual([{ key: 'athlete/torn', problem: expect.stringContaining('thresholdBpm') }]);
		expect(await allKeys(store)).toEqual(['athlete/new', 'athlete/torn']);
		expect((await getAthlete(store, 'torn')).problem).toContain('damaged');
		expect((await getAthlete(store, 'nobody')).problem).toContain('no such athlete');
	});

	it('that could not be read back are refused', async () => {
		const refused = saveAthlete(freshStore(), { ...nerea, thresholdDate: '20 February' });
		await expect(refused).rejects.toThrow(/athlete was not stored.*thresholdDate/);
	});
});
