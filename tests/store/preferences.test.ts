import { describe, expect, it } from 'vitest';
import { padsPlan } from './builders';
import { abortingStore } from './faulty-store';
import { allKeys, freshStore, plant } from './fresh-store';
import { defaultBellSettings } from '$lib/bell/settings';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import { getAthlete } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { getSetting } from '$lib/store/settings';
import { Preferences } from '$lib/store/preferences.svelte';
import type { UseStore } from '$lib/store/database';

async function loaded(store: UseStore): Promise<Preferences> {
	const preferences = new Preferences(store, { plan: padsPlan, bell: defaultBellSettings });
	await preferences.load();
	return preferences;
}

async function gym(): Promise<UseStore> {
	const store = freshStore();
	for (const id of ['a', 'b', 'c']) await saveAthlete(store, { id, name: id });
	return store;
}

describe('the corners that were put up last', () => {
	it('are kept, and whoever has no card any more is left out', async () => {
		const store = await gym();
		await (await loaded(store)).setCorners(['c', undefined, 'a', 'b']);
		const later = await loaded(store);
		expect(later.corners).toEqual(['c', 'a', 'b']);
		await later.remove('a');
		expect((await loaded(store)).corners).toEqual(['c', 'b']);
		await later.remove('b');
		expect((await loaded(store)).corners, 'one alone is no roster').toEqual([]);
	});

	it('are none, and nothing is written, while one athlete stands there alone', async () => {
		const store = await gym();
		const preferences = await loaded(store);
		await preferences.setCorners(['a']);
		expect(await allKeys(store)).not.toContain('setting/corners');
		await preferences.setCorners(['a', 'b']);
		await preferences.setCorners(['a']);
		expect((await loaded(store)).corners).toEqual([]);
	});
});

describe('the plan used last', () => {
	it('stays the last whole one while another is half typed, which is shown and blames no store', async () => {
		const store = freshStore();
		const preferences = await loaded(store);
		await preferences.setPlan({ ...padsPlan, roundCount: 7 });
		await preferences.setPlan({ ...padsPlan, roundCount: NaN });
		expect(preferences.plan.roundCount).toBeNaN();
		expect(preferences.problem).toBeUndefined();
		expect((await loaded(store)).plan.roundCount).toBe(7);
	});

	it('is not read back over what is being typed, however fast the keys follow each other', async () => {
		const store = freshStore();
		const preferences = await loaded(store);
		const typed = [4, 45].map((roundS) => preferences.setPlan({ ...padsPlan, roundS }));
		await Promise.all(typed);
		await preferences.setPlan({ ...padsPlan, roundS: 45, roundCount: 0 });
		// Whatever is read on the news of these is read by then.
		await preferences.setAthlete({ ...preferences.athlete, restBpm: 50 });
		expect(preferences.plan).toMatchObject({ roundS: 45, roundCount: 0 });
	});
});

describe('a card that is open in two windows', () => {
	const card = async (store: UseStore, id = 'a') => (await getAthlete(store, id)).value;

	it('keeps what the other one changed, and shows it with the next change made here', async () => {
		const store = await gym();
		await saveAthlete(store, {
			...withThreshold({ id: 'a', name: 'a' }, 170, '2026-01-05', 'typed'),
			vo2max: 50
		});
		const [one, other] = [await loaded(store), await loaded(store)];
		const { vo2max: _taken, ...left } = other.athlete;
		await other.setAthlete(withThreshold(left, 161.5, '2026-03-02', 'run'));
		await one.setAthlete(withWeight(one.athlete, 61, '2026-03-03'));
		const expected = {
			id: 'a',
			name: 'a',
			thresholdBpm: 161.5,
			thresholdDate: '2026-03-02',
			thresholdSource: 'run',
			olderThresholds: [{ bpm: 170, date: '2026-01-05', source: 'typed' }],
			weightKg: 61,
			weights: [{ date: '2026-03-03', kg: 61 }],
			changedAt: expect.any(String)
		};
		expect(await card(store)).toEqual(expected);
		expect(one.athlete).toEqual(expected);
		expect(one.athletes.find(({ id }) => id === 'a')).toEqual(expected);
		await one.setAthlete({ ...one.athlete, restBpm: 50 });
		expect(await card(store)).toEqual({ ...expected, restBpm: 50 });
	});

	it('is not written back where the other one deleted it, and that is said', async () => {
		const store = await gym();
		const one = await loaded(store);
		await deleteAthlete(store, 'a');
		const stale = { ...one.athlete, restBpm: 50 };
		await Promise.all([one.setAthlete(stale), one.setAthlete({ ...stale, restBpm: 51 })]);
		expect(await allKeys(store)).not.toContain('athlete/a');
		expect(one.refusal).toBe('a was deleted or merged elsewhere, so what was changed here was not kept.');
		expect(one.athletes.map(({ id }) => id)).toEqual(['b', 'c']);
		expect(one.athlete.id).toBe('b');
		await one.setAthlete({ ...one.athlete, restBpm: 52 });
		expect(one.refusal).toBe('');
		expect(await card(store, 'b')).toMatchObject({ restBpm: 52 });
	});
});

describe('changes to a card', () => {
	it('are shown at once and kept in their order, also where one takes the other back', async () => {
		const store = await gym();
		const one = await loaded(store);
		const before = one.athlete;
		const first = one.setAthlete({ ...before, hidesFuel: true });
		expect(one.athlete.hidesFuel).toBe(true);
		const second = one.setAthlete({ ...one.athlete, restBpm: 50 });
		const third = one.setAthlete({ ...one.athlete, hidesFuel: undefined });
		expect(one.athlete).toMatchObject({ restBpm: 50, hidesFuel: undefined });
		await Promise.all([first, second, third]);
		const { value } = await getAthlete(store, 'a');
		expect(value).toMatchObject({ restBpm: 50 });
		expect(value!.hidesFuel).toBeUndefined();
	});

	it('stay on the screen while what was kept before them is still being read', async () => {
		const store = await gym();
		let opened = Promise.resolve();
		const shownAtWrites: (number | undefined)[] = [];
		const one = await loaded(async (mode, work) => {
			if (mode === 'readonly') await opened;
			else shownAtWrites.push(one.athlete.restBpm);
			return store(mode, work);
		});
		await one.setAthlete({ ...one.athlete, hidesFuel: true });
		let open = () => {};
		opened = new Promise((resolve) => (open = resolve));
		const second = one.setAthlete({ ...one.athlete, restBpm: 50 });
		open();
		await second;
		expect(shownAtWrites).toEqual([undefined, 50]);
	});

	it('and new cards that a full disk refused are kept with the next change', async () => {
		const store = await gym();
		let isFull = false;
		const one = await loaded((mode, work) =>
			(isFull ? abortingStore(store, 'QuotaExceededError') : store)(mode, work)
		);
		isFull = true;
		await one.setAthlete({ ...one.athlete, restBpm: 50 });
		const id = one.addAthlete('Kit');
		await one.setAthlete({ id, name: 'Kit', restBpm: 60 });
		expect(one.problem).toMatchObject({ code: 'full' });
		expect(one.refusal).toBe(
			'This browser refuses to write: what was changed of Kit lasts as long as the page.'
		);
		isFull = false;
		await one.setAthlete({ ...one.athlete, weightKg: 61 });
		await one.setAthlete({ id, name: 'Kit', restBpm: 60, weightKg: 70 });
		expect((await getAthlete(store, 'a')).value).toMatchObject({ restBpm: 50, weightKg: 61 });
		expect((await getAthlete(store, id)).value).toMatchObject({ name: 'Kit', restBpm: 60, weightKg: 70 });
		expect(one.problem).toBeUndefined();
		expect(one.refusal).toBe('');
	});
});

describe('the plans of the last sessions', () => {
	const used = async (store: UseStore) =>
		(await getSetting(store, 'lastPlans', [])).value.map(({ name, roundCount }) => `${name} ${roundCount}`);

	it('are three, the latest first, one of each name as it was used last', async () => {
		const store = freshStore();
		const preferences = await loaded(store);
		for (const [name, roundCount] of [
			['A', 1],
			['B', 2],
			['C', 3],
			['D', 4],
			['C', 5]
		] as const)
			await preferences.usePlan({ ...padsPlan, name, roundCount });
		expect(await used(store)).toEqual(['C 5', 'D 4', 'B 2']);
		expect((await getSetting(store, 'lastPlan', undefined)).value).toMatchObject({
			name: 'C',
			roundCount: 5
		});
	});

	it('are begun anew where those that are kept cannot be read', async () => {
		const store = freshStore();
		await plant(store, 'setting/lastPlans', [{ name: 'torn' }]);
		await (await loaded(store)).usePlan(padsPlan);
		expect(await used(store)).toEqual([`${padsPlan.name} ${padsPlan.roundCount}`]);
	});
});
