import { describe, expect, it } from 'vitest';
import { wholeBackup } from './whole-backup';
import { write } from '$lib/store/database';
import { filesIn } from '$lib/store/folder/door';
import { fileName, type StampedName } from '$lib/store/folder/names';
import { visitFolder } from '$lib/store/folder/sync';
import { stampedText } from '$lib/store/folder/text';
import { onKept, touches } from '$lib/store/kept-changes';
import { deletePlan, savePlan } from '$lib/store/plans';
import { listPlans } from '$lib/store/plan-list';
import { setSetting } from '$lib/store/settings';
import type { Plan } from '$lib/rounds/plan';
import { makeBlock } from '../rounds/plans';
import { FakeFolder } from './fake-folder';
import { plant, valueOf } from './fresh-store';
import { iso, makeLaptop, nerea, noonMs } from './laptop';
import { ladder, makeTwo, named, restored } from './plan-laptops';

const planFiles = (folder: FakeFolder) =>
	[...folder.files.keys()].filter((name) => name.endsWith('.plan.json'));
describe('plans of one’s own in the shared folder', () => {
	it('come to the other laptop whole, are counted, told to whoever shows them, and opened once', async () => {
		const { folder, one, other } = await makeTwo();
		const plan = { ...ladder, blocks: [makeBlock()], likedBy: 'a later page' } as Plan;
		await savePlan(one.store, { id: 'p1', plan: { ...plan, handOvers: { afterRounds: [1], lengthS: 120 } } });
		expect((await one.visit()).wentOut.plans).toBe(1);
		let isTold = false;
		onKept(other.store, (keys) => (isTold ||= touches(keys, 'plan')));
		expect((await other.visit()).cameIn.plans).toBe(1);
		expect((await listPlans(other.store)).plans).toEqual([{ id: 'p1', plan }]);
		expect(isTold).toBe(true);
		expect(await other.visit()).toMatchObject({ opened: 0, wentOut: { plans: 0 }, cameIn: { plans: 0 } });
		expect(planFiles(folder)).toHaveLength(1);
		expect([...folder.files].filter(([, { text }]) => text.includes('handOvers'))).toEqual([]);
	});

	it('hold what was changed last, and of each laptop one file', async () => {
		const { folder, one, other, settle } = await makeTwo();
		for (const [i, laptop] of [one, other, one].entries()) {
			await savePlan(laptop.store, { id: 'p1', plan: { ...ladder, roundS: 60 + i } });
			await settle();
		}
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([['Ladder', 62]]);
		expect(planFiles(folder)).toHaveLength(2);
	});

	it('keep both of what two laptops changed unaware of each other, until somebody deletes one', async () => {
		const { one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder }, noonMs);
		await settle();
		await savePlan(one.store, { id: 'p1', plan: { ...ladder, roundS: 60 } }, noonMs + 1);
		// This clock is an hour ahead.
		await savePlan(other.store, { id: 'p1', plan: { ...ladder, roundS: 90 } }, noonMs + 3_600_000);
		await settle();
		for (const laptop of [one, other])
			expect(await named(laptop)).toEqual([
				['Ladder', 90],
				['Ladder (from another laptop)', 60]
			]);
		const { plans } = await listPlans(one.store);
		await deletePlan(one.store, plans[1]!.id);
		// Whoever comes later reads of the same two changes, and of the deletion.
		const third = await makeLaptop(one.folder, nerea);
		await third.visit(noonMs + 50);
		await settle();
		await third.visit(noonMs + 60);
		for (const laptop of [one, other, third]) expect(await named(laptop)).toEqual([['Ladder', 90]]);
	});

	it('keep what one laptop changed while another removed it', async () => {
		const { one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder }, noonMs);
		await settle();
		await savePlan(one.store, { id: 'p1', plan: { ...ladder, roundS: 60 } }, noonMs + 1);
		await deletePlan(other.store, 'p1', noonMs + 2);
		await settle();
		for (const laptop of [one, other])
			expect(await named(laptop)).toEqual([['Ladder (from another laptop)', 60]]);
	});

	it('stand under names of their own where two laptops gave one', async () => {
		const { one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await savePlan(other.store, { id: 'p2', plan: { ...ladder, roundS: 60 } });
		await settle();
		for (const laptop of [one, other])
			expect(await named(laptop)).toEqual([
				['Ladder', ladder.roundS],
				['Ladder (2)', 60]
			]);
	});

	it('that were removed go on the other laptop, and no late copy and no backup brings them back', async () => {
		const { folder, one, other, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await settle();
		const late = [...folder.files];
		const { text } = await wholeBackup(other.store, new Date(noonMs));
		await deletePlan(one.store, 'p1');
		await settle();
		expect(await named(other)).toEqual([]);
		for (const [name, file] of late) folder.put(name, file.text);
		await settle();
		for (const laptop of [one, other]) {
			expect(await restored(laptop.store, text)).toMatchObject({
				skipped: [{ name: 'Ladder', why: 'it was taken out here later' }]
			});
			expect(await named(laptop)).toEqual([]);
		}
		// Brought back by hand it is there for both.
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await settle();
		for (const laptop of [one, other]) expect(await named(laptop)).toEqual([['Ladder', ladder.roundS]]);
	});

	it('are whole though their file is half there at first', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await one.visit();
		const copied = new FakeFolder();
		const other = await makeLaptop(copied);
		const [name] = planFiles(folder);
		const { text } = folder.files.get(name!)!;
		copied.put(name!, text.slice(0, 90));
		expect((await other.visit()).problems).toMatchObject([{ name, problem: /not whole/ }]);
		copied.put(name!, text);
		expect((await other.visit()).cameIn.plans).toBe(1);
		expect(await named(other)).toEqual([['Ladder', ladder.roundS]]);
	});

	it('are read by everybody, and written by a laptop where somebody is switched on alone', async () => {
		const folder = new FakeFolder();
		const [quiet, one] = [await makeLaptop(folder), await makeLaptop(folder, nerea)];
		await savePlan(quiet.store, { id: 'p1', plan: ladder });
		await savePlan(one.store, { id: 'p2', plan: { ...ladder, name: 'Rope' } });
		await quiet.visit();
		await one.visit();
		await quiet.visit();
		expect(planFiles(folder).map((name) => name.split('.')[0])).toEqual(['p2']);
		expect((await listPlans(quiet.store)).plans.map(({ id }) => id)).toEqual(['p1', 'p2']);
	});

	it('never go out as the plan chosen or as those used last', async () => {
		const { folder, one, settle } = await makeTwo();
		await setSetting(one.store, 'lastPlan', ladder);
		await setSetting(one.store, 'lastPlans', [ladder]);
		await settle();
		expect([...folder.files].filter(([, { text }]) => text.includes('Ladder'))).toEqual([]);
	});

	it('are told anew in another folder that knows only what was before', async () => {
		const { folder, one, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await settle();
		const former = new FakeFolder();
		former.copyFrom(folder);
		await savePlan(one.store, { id: 'p1', plan: { ...ladder, roundS: 60 } });
		await settle();
		// As when another folder is chosen: what was read of the one before is forgotten.
		await write(one.store, (objects) => objects.delete('folder/memory'));
		await visitFolder(one.store, filesIn(former.handle), noonMs + 100);
		const third = await makeLaptop(former, nerea);
		await third.visit(noonMs + 101);
		expect(await named(third)).toEqual([['Ladder', 60]]);
	});

	it.each([
		[
			'a plan that no page can read',
			{ value: { name: 'Torn' }, at: iso(noonMs), by: 'm9' },
			/cannot be read/
		],
		[
			'a word later than its own name',
			{ value: ladder, at: iso(noonMs + 1), by: 'm9' },
			/later than its name/
		]
	])('refuse %s, and what is here stays', async (_, word, why) => {
		const { folder, one, settle } = await makeTwo();
		await savePlan(one.store, { id: 'p1', plan: ladder });
		await settle();
		const name: StampedName = { kind: 'plan', id: 'p1', at: iso(noonMs), by: 'm9' };
		folder.put(fileName(name), await stampedText(name, { said: { plan: [word] } }));
		expect((await one.visit(noonMs + 100)).problems).toMatchObject([{ name: fileName(name), problem: why }]);
		expect(await named(one)).toEqual([['Ladder', ladder.roundS]]);
	});

	it('refuse a file larger than any plan without opening it', async () => {
		const { folder, one } = await makeTwo();
		const name = `p1.20260303T120000000Z.m9.plan.json`;
		folder.put(name, ' '.repeat(500_001));
		expect((await one.visit()).problems).toMatchObject([{ name, problem: /larger than any/ }]);
		expect(folder.opened).not.toContain(name);
	});

	it('leave one alone that cannot be read here', async () => {
		const { one, other } = await makeTwo();
		await savePlan(one.store, { id: 'torn', plan: ladder });
		await one.visit();
		await plant(other.store, 'plan/torn', { name: 'Torn' });
		expect((await other.visit()).problems).toMatchObject([{ problem: /cannot be read/ }]);
		expect(await valueOf(other.store, 'plan/torn')).toEqual({ name: 'Torn' });
	});
});
