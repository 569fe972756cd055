import { describe, expect, it } from 'vitest';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import { addEdit } from '$lib/store/edits';
import { listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { readDays, saveDay } from '$lib/store/days';
import { mergeAthletes } from '$lib/store/folder/merges';
import { setConsent } from '$lib/store/folder/state';
import { listPlans } from '$lib/store/plan-list';
import { savePlan } from '$lib/store/plans';
import type { UseStore } from '$lib/store/database';
import { makeDay, makeEntry } from '../review/training-days';
import { padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { contents, plant } from './fresh-store';
import { bo, dayMs, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';

const tuesday = '2026-03-03';
const yearMs = 365 * dayMs;

/** Two laptops of one folder, what the first kept before it knew of anything, and how its disk is set back to that. */
async function gym() {
	const folder = new FakeFolder();
	const [one, other] = [await makeLaptop(folder, nerea, bo), await makeLaptop(folder, nerea, bo)];
	await one.visit();
	await other.visit();
	const kept = await contents(one.store);
	const setBack = async (): Promise<Laptop> => {
		const laptop = await makeLaptop(folder);
		for (const [key, value] of kept) await plant(laptop.store, key, value);
		return laptop;
	};
	return { one, other, setBack };
}

/** They visit until nothing moves. */
async function settle(...laptops: Laptop[]): Promise<void> {
	for (let round = 0; round < 3; round++)
		for (const laptop of laptops) await laptop.visit(noonMs + 2 * dayMs);
}

describe('a laptop whose disk was set back, and whose clock had been ahead', () => {
	const roundS = async ({ store }: Laptop) =>
		(await listPlans(store)).plans.map(({ plan }) => plan.roundS).sort();

	it('loses no plan that it says since, and nobody loses the one from before', async () => {
		const { one, other, setBack } = await gym();
		await savePlan(one.store, { id: 'p', plan: { ...padsPlan, roundS: 101 } }, noonMs + yearMs);
		await one.visit();
		await other.visit();
		// It is changed there in knowledge of the first word.
		await savePlan(other.store, { id: 'p', plan: { ...padsPlan, roundS: 102 } }, noonMs);
		await other.visit();
		const back = await setBack();
		await savePlan(back.store, { id: 'p', plan: { ...padsPlan, roundS: 103 } }, noonMs);
		await settle(back, other);
		for (const laptop of [back, other]) expect(await roundS(laptop)).toEqual([102, 103]);
	});

	it('loses no threshold of a card', async () => {
		const { one, other, setBack } = await gym();
		const cardOn = async (store: UseStore) =>
			(await listAthletes(store)).athletes.find(({ id }) => id === nerea.id)!;
		const say = async (store: UseStore, thresholdBpm: number, ms: number) => {
			const card = await cardOn(store);
			await saveAthlete(store, { ...card, thresholdBpm, changedAt: iso(ms) }, card, ms);
		};
		await say(one.store, 171, noonMs + yearMs);
		await one.visit();
		await other.visit();
		await say(other.store, 173, noonMs);
		await other.visit();
		const back = await setBack();
		await say(back.store, 172, noonMs);
		await settle(back, other);
		for (const { store } of [back, other]) {
			const card = await cardOn(store);
			const held = [card.thresholdBpm, ...(card.olderThresholds ?? []).map(({ bpm }) => bpm)];
			expect(held).toEqual(expect.arrayContaining([172, 173]));
		}
	});

	it('gives a file no name that it gave to another one', async () => {
		const { one, other, setBack } = await gym();
		await one.box('a');
		await one.visit();
		await other.visit();
		await addEdit(other.store, 'a', { at: iso(noonMs + yearMs), note: 'from ahead' });
		await other.visit();
		await one.visit();
		await addEdit(one.store, 'a', { at: iso(noonMs), title: 'Before' });
		await one.visit();
		await other.visit();
		const back = await setBack();
		// The folder has the session and the word from ahead, and not yet what was said here before the disk was set back.
		const mine = [...back.folder.files.keys()]
			.filter((name) => /\.edit\./.test(name))
			.sort()
			.at(-1)!;
		const { text } = back.folder.files.get(mine)!;
		back.folder.files.delete(mine);
		await back.visit();
		await addEdit(back.store, 'a', { at: iso(noonMs), title: 'Since' });
		await back.visit();
		back.folder.put(mine, text);
		await settle(back, other);
		expect(await back.state()).toEqual(await other.state());
		expect([...back.folder.files.keys()].filter((name) => /\.edit\./.test(name))).toHaveLength(3);
	});
});

describe('two laptops', () => {
	it('agree on corrections of one moment, though one may write its own only later', async () => {
		const { one, other } = await gym();
		await one.box('a');
		await settle(one, other);
		await setConsent(one.store, nerea.id, false);
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook', title: 'Ours' });
		await addEdit(other.store, 'a', { at: iso(noonMs), note: 'right cross' });
		await settle(other, one);
		await setConsent(one.store, nerea.id, true);
		await settle(one, other);
		expect(await one.state()).toEqual(await other.state());
		expect(JSON.stringify(await other.state())).toContain('Ours');
	});

	it('have the same days of somebody who comes back after two cards became one', async () => {
		const { one, other } = await gym();
		const dayOf = async ({ store }: Laptop) =>
			(await readDays(store, [bo.id], tuesday, tuesday)).get(bo.id)?.days;
		const { text } = await wholeBackup(other.store, new Date(noonMs));
		await saveDay(other.store, bo.id, tuesday, { changed: makeDay(makeEntry({ id: 'a' })) }, noonMs);
		await settle(other, one);
		await mergeAthletes(one.store, nerea, bo.id, noonMs + 1);
		// Who has not heard of that restores the card.
		await one.visit();
		await other.visit();
		const plan = await planRestore(other.store, text);
		if (plan.status !== 'ready') throw new Error(plan.problem);
		await restore(other.store, plan, undefined, noonMs + 2);
		await settle(other, one);
		expect((await dayOf(one))?.get(tuesday)?.entries).toHaveLength(1);
		expect(await dayOf(one)).toEqual(await dayOf(other));
	});
});
