import { describe, expect, it } from 'vitest';
import { wholeBackup } from './whole-backup';
import { write } from '$lib/store/database';
import { deletePlan, savePlan } from '$lib/store/plans';
import type { Plan } from '$lib/rounds/plan';
import { plant } from './fresh-store';
import { iso, noonMs, type Laptop } from './laptop';
import { ladder, makeTwo, named, restored } from './plan-laptops';

describe('plans that were kept before they travelled', () => {
	/** As the page before kept one: with the moment it was entered, and no more. */
	async function keptBefore({ store }: Laptop, plan: Plan, atMs?: number) {
		await plant(store, 'plan/p1', plan);
		if (atMs !== undefined) await plant(store, 'stamp/plan/p1', { at: iso(atMs) });
	}

	it('are one plan on laptops that had it from one backup, though one has changed it since', async () => {
		const { one, other, settle } = await makeTwo();
		for (const laptop of [one, other]) await keptBefore(laptop, ladder, noonMs);
		await savePlan(one.store, { id: 'p1', plan: { ...ladder, roundS: 60 } });
		await settle();
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([['Ladder', 60]]);
	});

	it.each([
		['with moments', noonMs + 1, noonMs],
		['without a moment on either side', undefined, undefined]
	])('are both there where they differ, %s', async (_, atMs, otherMs) => {
		const { one, other, settle } = await makeTwo();
		await keptBefore(one, ladder, atMs);
		await keptBefore(other, { ...ladder, roundS: 60 }, otherMs);
		await settle();
		expect(await named(one)).toEqual(await named(other));
		expect((await named(one)).map(([, roundS]) => roundS).sort()).toEqual([ladder.roundS, 60].sort());
	});

	it('do not come back where the page before removed them', async () => {
		const { one, other, settle } = await makeTwo();
		await keptBefore(one, ladder, noonMs);
		await plant(other.store, 'stamp/plan/p1', { at: iso(noonMs + 1) });
		await settle();
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([]);
	});

	it('are taken as changed or removed where the page before did so once more', async () => {
		const { one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder }, noonMs);
		await settle();
		await keptBefore(one, { ...ladder, roundS: 60 }, noonMs + 5);
		await settle();
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([['Ladder', 60]]);
		await write(one.store, (objects) => objects.delete('plan/p1'));
		await plant(one.store, 'stamp/plan/p1', { at: iso(noonMs + 9) });
		await settle();
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([]);
	});
});

describe('plans in a backup', () => {
	it('hold what was entered later, here or there, and keep both where neither knew of the other', async () => {
		const { one, other } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder }, noonMs);
		const before = (await wholeBackup(one.store, new Date(noonMs))).text;
		await restored(other.store, before);
		await savePlan(other.store, { id: 'p1', plan: { ...ladder, roundS: 60 } }, noonMs + 1);
		expect(await restored(other.store, before)).toMatchObject({
			skipped: [{ why: 'what is here may be later, and stays' }]
		});
		const later = (await wholeBackup(other.store, new Date(noonMs))).text;
		expect(await restored(one.store, later)).toMatchObject({
			changed: [{ why: 'entered later than what is here' }]
		});
		expect(await named(one)).toEqual([['Ladder', 60]]);
		await savePlan(one.store, { id: 'p1', plan: { ...ladder, roundS: 70 } }, noonMs + 2);
		await savePlan(other.store, { id: 'p1', plan: { ...ladder, roundS: 80 } }, noonMs + 3);
		const third = (await wholeBackup(one.store, new Date(noonMs))).text;
		expect(await restored(other.store, third)).toMatchObject({
			added: [{ why: 'what is here was entered later; both are kept' }]
		});
		expect((await named(other)).map(([, roundS]) => roundS)).toEqual([80, 70]);
	});

	it('are removed where they were removed in knowledge of what is here', async () => {
		const { one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await settle();
		await deletePlan(one.store, 'p1');
		const { text } = await wholeBackup(one.store, new Date(noonMs));
		expect(await restored(other.store, text)).toMatchObject({
			changed: [{ name: 'Ladder', why: 'it was taken out there later, and goes' }]
		});
		expect(await named(other)).toEqual([]);
	});
});
