import { describe, expect, it } from 'vitest';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import { read, valueAt } from '$lib/store/database';
import { deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { deleteSession, purgeDeleted } from '$lib/store/sessions';
import { setConsent } from '$lib/store/folder/state';
import { FakeFolder } from './fake-folder';
import { dayMs, makeLaptop, nerea, noonMs, type Laptop } from './laptop';

/** Two laptops of which the second has all that the first had on a day when no folder knew of it. */
async function withBackupOfFirst(): Promise<[Laptop, Laptop]> {
	const folder = new FakeFolder();
	const one = await makeLaptop(folder, nerea);
	await one.box('a');
	const { text } = await wholeBackup(one.store, new Date(noonMs));
	const other = await makeLaptop(folder);
	const plan = await planRestore(other.store, text);
	if (plan.status !== 'ready') throw new Error(plan.problem);
	await restore(other.store, plan, undefined, noonMs);
	await setConsent(other.store, nerea.id, true);
	return [one, other];
}

describe('what was deleted before the folder knew of it', () => {
	it('stays deleted once another laptop brings it there, for good or not, and is deleted on that one, too', async () => {
		for (const isPurged of [true, false]) {
			const [one, other] = await withBackupOfFirst();
			await deleteSession(one.store, 'a', noonMs);
			if (isPurged) expect(await purgeDeleted(one.store, dayMs, noonMs + 2 * dayMs)).toBe(1);
			await other.visit(noonMs + 2 * dayMs);
			expect(await other.ids()).toEqual(['a']);
			await one.visit(noonMs + 3 * dayMs);
			expect(await one.ids()).toEqual([]);
			await other.visit(noonMs + 4 * dayMs);
			expect(await other.ids()).toEqual([]);
		}
	});

	it('stays away as an athlete, too', async () => {
		const card = ({ store }: Laptop) => read(store, (objects) => valueAt(objects, `athlete/${nerea.id}`));
		for (const isPurged of [true, false]) {
			const [one, other] = await withBackupOfFirst();
			await deleteAthlete(one.store, nerea.id, noonMs);
			if (isPurged) await purgeAthletes(one.store, dayMs, noonMs + 2 * dayMs);
			await other.visit(noonMs + 2 * dayMs);
			expect(await card(other)).toBeDefined();
			await one.visit(noonMs + 3 * dayMs);
			expect(await card(one)).toBeUndefined();
			await other.visit(noonMs + 4 * dayMs);
			expect(await card(other)).toBeUndefined();
		}
	});

	it('and came back meanwhile is deleted for nobody by the restore of a backup from between', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder)];
		await deleteAthlete(one.store, nerea.id, noonMs);
		const { text } = await wholeBackup(one.store, new Date(noonMs));
		await restoreAthlete(one.store, nerea.id);
		await one.visit(noonMs + 1);
		const plan = await planRestore(other.store, text);
		if (plan.status !== 'ready') throw new Error(plan.problem);
		await restore(other.store, plan, undefined, noonMs + 2);
		await other.visit(noonMs + 3);
		await one.visit(noonMs + 4);
		for (const { store } of [one, other])
			expect(await read(store, (objects) => valueAt(objects, `athlete/${nerea.id}`))).toBeDefined();
	});

	it('is told to nobody as long as nobody else has it', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await deleteSession(one.store, 'a', noonMs);
		await purgeDeleted(one.store, dayMs, noonMs + 2 * dayMs);
		await one.visit(noonMs + 2 * dayMs);
		expect([...folder.files.keys()].filter((name) => name.startsWith('a.'))).toEqual([]);
	});
});
