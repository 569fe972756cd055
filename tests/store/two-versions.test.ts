import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, it } from 'vitest';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import type { Athlete } from '$lib/record/athlete';
import { heldForOlderPages, type Blow } from '$lib/record/blow';
import { restrictionOf } from '$lib/record/way-back';
import { withBlow } from '$lib/record/blow-changes';
import { getAthlete } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { setReasonConsent } from '$lib/store/folder/state';
import { wholeBackup } from './whole-backup';
import { read, valueAt, type UseStore } from '$lib/store/database';
import { addEdit } from '$lib/store/edits';
import { readSession } from '$lib/store/sessions';
import { deletePlan, savePlan } from '$lib/store/plans';
import { listPlans } from '$lib/store/plan-list';
import * as old from '../fixtures/page-1.js';
import { makeBlock } from '../rounds/plans';
import { makeRecord, padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { dayMs, iso, makeLaptop, nerea, noonMs } from './laptop';

/** A laptop whose page is the one before cards had stamps. */
async function oldLaptop(folder: FakeFolder, card: Athlete) {
	globalThis.indexedDB = new IDBFactory();
	const store = old.openDatabase();
	await read(store, () => undefined);
	await old.saveAthlete(store, card);
	await old.setConsent(store, card.id, true);
	return { store, visit: (atMs: number) => old.visitFolder(store, old.filesIn(folder.handle), atMs) };
}
const cardIn = async (store: UseStore) => (await getAthlete(store, nerea.id)).value!;

describe('a laptop that was not updated yet, over one folder with one that was', () => {
	it('loses nothing that was entered on either, and takes nothing away by not knowing it', async () => {
		const folder = new FakeFolder();
		const start: Athlete = { ...nerea, thresholdBpm: 160, changedAt: iso(noonMs - 5000) };
		const fresh = await makeLaptop(folder, start);
		const former = await oldLaptop(folder, start);
		await fresh.visit(noonMs);
		await former.visit(noonMs + 1);
		await fresh.visit(noonMs + 2);
		// On both at once, unaware of each other; one of them has a member that the other cannot know.
		const known = await cardIn(fresh.store);
		const found = withThreshold(
			{ ...known, slowingMedicine: true, reach: 180 } as Athlete,
			172,
			'2026-03-03',
			'run'
		);
		await saveAthlete(fresh.store, { ...found, changedAt: iso(noonMs + 10) }, known);
		const theirs = (await old.getAthlete(former.store, nerea.id)).value!;
		await old.saveAthlete(former.store, {
			...withWeight(theirs, 61, '2026-03-03'),
			changedAt: iso(noonMs + 20)
		});
		for (let round = 0; round < 3; round++) {
			await former.visit(noonMs + 100 + round);
			await fresh.visit(noonMs + 200 + round);
		}
		const entered = { thresholdBpm: 172, slowingMedicine: true, weightKg: 61 };
		expect(await cardIn(fresh.store)).toMatchObject({ ...entered, reach: 180 });
		expect((await old.getAthlete(former.store, nerea.id)).value).toMatchObject(entered);
	});

	it.each([true, false])(
		'keeps an athlete locked after a blow to the head on both, until the way back is at its end, the reason told: %s',
		async (isTold) => {
			const folder = new FakeFolder();
			const start: Athlete = { ...nerea, changedAt: iso(noonMs - 5000) };
			const fresh = await makeLaptop(folder, start);
			const former = await oldLaptop(folder, start);
			const third = await makeLaptop(folder, start);
			if (isTold) await setReasonConsent(fresh.store, nerea.id, true);
			const today = '2026-03-03';
			const blow: Blow = { day: '2026-03-01', step: '3', since: iso(noonMs - 2 * dayMs) };
			const stop = async () => (await old.getAthlete(former.store, nerea.id)).value!.noSparringUntil;
			const settle = async (fromMs: number) => {
				for (let round = 0; round < 3; round++) {
					await fresh.visit(fromMs + 100 + round);
					await former.visit(fromMs + 200 + round);
					await third.visit(fromMs + 300 + round);
				}
			};
			const put = async (told: Blow, atMs: number) => {
				const known = await cardIn(fresh.store);
				await saveAthlete(fresh.store, { ...withBlow(known, told, today), changedAt: iso(atMs) }, known);
			};
			await settle(noonMs);
			await put(blow, noonMs + 1000);
			// Meanwhile, unaware of it, the older page has its own card changed, and later.
			const theirs = (await old.getAthlete(former.store, nerea.id)).value!;
			await old.saveAthlete(former.store, { ...theirs, notes: 'fit again', changedAt: iso(noonMs + 1500) });
			await settle(noonMs + 2000);
			expect(await cardIn(fresh.store)).toMatchObject({ notes: 'fit again', blows: [blow] });
			expect(restrictionOf(await cardIn(fresh.store), '2030-01-01')).toMatchObject({ step: '3' });
			expect(await stop()).toBe(heldForOlderPages);
			expect(restrictionOf(await cardIn(third.store), '2030-01-01')).toEqual({
				step: '3',
				why: isTold ? 'blow' : 'lock'
			});
			await put({ ...blow, step: '6', clearance: { by: 'Dr Aalto', day: today } }, noonMs + 3000);
			await settle(noonMs + 4000);
			expect(await stop()).toBeUndefined();
			for (const { store } of [fresh, third])
				expect(restrictionOf(await cardIn(store), today)).toBeUndefined();
		}
	);

	it('has the same sessions and corrections in the end', async () => {
		const folder = new FakeFolder();
		const fresh = await makeLaptop(folder, nerea);
		const former = await oldLaptop(folder, nerea);
		await former.visit(noonMs - 1);
		await fresh.box('a');
		await old.openJournal(former.store, 'of-b').finish([makeRecord({ id: 'b' })]);
		for (let round = 0; round < 2; round++) {
			await fresh.visit(noonMs + round);
			await former.visit(noonMs + 10 + round);
		}
		await addEdit(fresh.store, 'b', { at: iso(noonMs + 50), title: 'From the new one' });
		await old.addEdit(former.store, 'a', { at: iso(noonMs + 60), title: 'From the old one' });
		for (let round = 0; round < 2; round++) {
			await fresh.visit(noonMs + 100 + round);
			await former.visit(noonMs + 110 + round);
		}
		for (const [id, title] of [
			['a', 'From the old one'],
			['b', 'From the new one']
		] as const) {
			expect(await readSession(fresh.store, id)).toMatchObject({ edit: { title } });
			expect(await old.readSession(former.store, id)).toMatchObject({ edit: { title } });
		}
	});

	it('leaves a session of several blocks alone, says that it needs updating, and takes all the others', async () => {
		const folder = new FakeFolder();
		const fresh = await makeLaptop(folder, nerea);
		const former = await oldLaptop(folder, nerea);
		const plan = { ...padsPlan, blocks: [makeBlock()] };
		await former.visit(noonMs - 1);
		await fresh.box('whole');
		await fresh.box('blocks', { version: 2, plan });
		for (let round = 0; round < 3; round++) {
			await fresh.visit(noonMs + round);
			await former.visit(noonMs + 10 + round);
		}
		expect(await old.readSession(former.store, 'whole')).toMatchObject({ status: 'found' });
		expect(await old.readSession(former.store, 'blocks')).not.toMatchObject({ status: 'found' });
		// Whoever is updated, or comes later, finds it whole.
		const third = await makeLaptop(folder, nerea);
		await third.visit(noonMs + 100);
		expect(await third.ids()).toEqual(['blocks', 'whole']);
		const found = await readSession(third.store, 'blocks');
		expect(found.status === 'found' && found.record.head).toMatchObject({ version: 2, plan });
	});

	it('leaves the plans of the newer one alone in the folder, and is not harmed by them', async () => {
		const folder = new FakeFolder();
		const start: Athlete = { ...nerea, changedAt: iso(noonMs - 5000) };
		const fresh = await makeLaptop(folder, start);
		const former = await oldLaptop(folder, start);
		await savePlan(fresh.store, { id: 'p-1', plan: padsPlan }, noonMs);
		await savePlan(fresh.store, { id: 'p-2', plan: padsPlan }, noonMs);
		await fresh.visit(noonMs);
		await deletePlan(fresh.store, 'p-2', noonMs);
		await fresh.visit(noonMs + 1);
		const planFiles = () => [...folder.files].filter(([name]) => name.endsWith('.plan.json'));
		const before = planFiles();
		expect(before).toHaveLength(2);
		const report = await former.visit(noonMs + 2);
		// The two plans, and the word that the newer one looks into the folders of the years.
		expect(report).toMatchObject({ problems: [], foreign: { count: 3 } });
		await former.visit(noonMs + 2 * dayMs);
		expect(planFiles()).toEqual(before);
		// Whoever is updated, or comes later, finds them.
		const third = await makeLaptop(folder);
		await third.visit(noonMs + 4);
		expect((await listPlans(third.store)).plans).toEqual([{ id: 'p-1', plan: padsPlan }]);
	});

	it('reads a plan of several blocks as its first one', async () => {
		const plan = { ...padsPlan, blocks: [makeBlock()] };
		const fresh = await makeLaptop(new FakeFolder(), nerea);
		await savePlan(fresh.store, { id: 'p-1', plan });
		const { text } = await wholeBackup(fresh.store, new Date(noonMs));
		const former = await oldLaptop(new FakeFolder(), nerea);
		const restore = await old.planRestore(former.store, text);
		if (restore.status !== 'ready') throw new Error(restore.problem);
		await old.restore(former.store, restore);
		expect(await read(former.store, (objects) => valueAt(objects, 'plan/p-1'))).toEqual(padsPlan);
	});

	it('can restore a backup of the newer one', async () => {
		const fresh = await makeLaptop(new FakeFolder(), nerea);
		await fresh.box('a');
		const { text } = await wholeBackup(fresh.store, new Date(noonMs));
		const former = await oldLaptop(new FakeFolder(), { id: 'ath-9', name: 'Kit' });
		const plan = await old.planRestore(former.store, text);
		if (plan.status !== 'ready') throw new Error(plan.problem);
		expect(await old.restore(former.store, plan)).toEqual({ status: 'restored' });
		expect(await old.readSession(former.store, 'a')).toMatchObject({ status: 'found' });
	});
});
