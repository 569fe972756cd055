import { describe, expect, it } from 'vitest';
import { padsPlan } from './builders';
import { allKeys, freshStore, plant, valueOf } from './fresh-store';
import { defaultBellSettings } from '$lib/bell/settings';
import { deletePlan, savePlan } from '$lib/store/plans';
import { listPlans } from '$lib/store/plan-list';
import { getSetting, setSetting } from '$lib/store/settings';

const quiet = { ...defaultBellSettings, on: { ...defaultBellSettings.on, clapper: false }, delayMs: 180 };

describe('settings', () => {
	it('are the fallback until they are set', async () => {
		const store = freshStore();
		expect(await getSetting(store, 'bell', defaultBellSettings)).toEqual({ value: defaultBellSettings });
		expect(await getSetting(store, 'lastPlan', undefined)).toEqual({ value: undefined });
		expect(await getSetting(store, 'firstQuestionsAsked', false)).toEqual({ value: false });
	});

	it('come back as they were set', async () => {
		const store = freshStore();
		await setSetting(store, 'bell', quiet);
		await setSetting(store, 'lastPlan', padsPlan);
		await setSetting(store, 'athlete', 'ath-1');
		await setSetting(store, 'firstQuestionsAsked', true);
		expect(await getSetting(store, 'bell', defaultBellSettings)).toStrictEqual({ value: quiet });
		expect(await getSetting(store, 'lastPlan', undefined)).toStrictEqual({ value: padsPlan });
		expect(await getSetting(store, 'athlete', undefined)).toStrictEqual({ value: 'ath-1' });
		expect(await getSetting(store, 'firstQuestionsAsked', false)).toStrictEqual({ value: true });
	});

	it('keep look, keys, and a bell with volumes of its own and a voice', async () => {
		const store = freshStore();
		const own = { ...quiet, levels: { clapper: 0.4 }, saysDrop: true };
		await setSetting(store, 'theme', 'light');
		await setSetting(store, 'hasKeys', false);
		await setSetting(store, 'bell', own);
		expect(await getSetting(store, 'theme', 'dark')).toStrictEqual({ value: 'light' });
		expect(await getSetting(store, 'hasKeys', true)).toStrictEqual({ value: false });
		expect(await getSetting(store, 'bell', defaultBellSettings)).toStrictEqual({ value: own });
		await plant(store, 'setting/bell', { ...quiet, levels: { clapper: 2 } });
		expect((await getSetting(store, 'bell', defaultBellSettings)).problem).toContain('clapper');
	});

	it('that cannot be read give the fallback, say so, and are not written over', async () => {
		const store = freshStore();
		const damaged = { ...quiet, volume: 7 };
		await plant(store, 'setting/bell', damaged);
		const { value, problem } = await getSetting(store, 'bell', defaultBellSettings);
		expect(value).toEqual(defaultBellSettings);
		expect(problem).toMatch(/damaged at "volume"/);
		expect(await valueOf(store, 'setting/bell')).toEqual(damaged);
	});

	it('that lack a sound are damaged, since nobody knows whether it should ring', async () => {
		const store = freshStore();
		const { whistle, ...on } = quiet.on;
		await plant(store, 'setting/bell', { ...quiet, on });
		expect(whistle).toBe(true);
		expect((await getSetting(store, 'bell', defaultBellSettings)).problem).toContain('whistle');
	});

	it('that could not be read back are refused, and the old one stays', async () => {
		const store = freshStore();
		await setSetting(store, 'bell', quiet);
		const refused = setSetting(store, 'bell', { ...quiet, volume: NaN });
		await expect(refused).rejects.toThrow(/"bell" was not stored.*volume/);
		expect(await getSetting(store, 'bell', defaultBellSettings)).toEqual({ value: quiet });
	});
});

describe('own plans', () => {
	it('are listed by name, replaced by id and deleted', async () => {
		const store = freshStore();
		await savePlan(store, { id: 'p1', plan: { ...padsPlan, name: 'Sparring night' } });
		await savePlan(store, { id: 'p2', plan: { ...padsPlan, name: 'Bag work' } });
		await savePlan(store, { id: 'p1', plan: { ...padsPlan, name: 'A quiet night', roundCount: 3 } });
		expect(await listPlans(store)).toEqual({
			plans: [
				{ id: 'p1', plan: { ...padsPlan, name: 'A quiet night', roundCount: 3 } },
				{ id: 'p2', plan: { ...padsPlan, name: 'Bag work' } }
			],
			unreadable: []
		});
		await deletePlan(store, 'p1');
		expect((await listPlans(store)).plans.map(({ id }) => id)).toEqual(['p2']);
	});

	it('that cannot be read are named, and the others unharmed', async () => {
		const store = freshStore();
		await savePlan(store, { id: 'fine', plan: padsPlan });
		await plant(store, 'plan/torn', { name: 'Torn' });
		const { plans, unreadable } = await listPlans(store);
		expect(plans).toEqual([{ id: 'fine', plan: padsPlan }]);
		expect(unreadable).toEqual([{ key: 'plan/torn', problem: expect.stringContaining('damaged') }]);
		expect(await allKeys(store)).toContain('plan/torn');
	});
});
