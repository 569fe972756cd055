import { describe, expect, it } from 'vitest';
import { padsPlan } from './builders';
import { allKeys, freshStore } from './fresh-store';
import { defaultBellSettings } from '$lib/bell/settings';
import { saveAthlete } from '$lib/store/athletes';
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
});
