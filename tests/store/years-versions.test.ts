import { describe, expect, it } from 'vitest';
import * as former from '../fixtures/page-2.js';
import { FakeFolder } from './fake-folder';
import { valueOf } from './fresh-store';
import { dayMs, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';
import { saveAthlete } from '$lib/store/athletes';
import { getAthlete } from '$lib/store/athlete-list';
import { addEdit } from '$lib/store/edits';
import { filesIn } from '$lib/store/folder/door';
import { fileName } from '$lib/store/folder/names';
import { keepHandle } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import { deleteSession, purgeDeleted } from '$lib/store/sessions';

/** A laptop whose page is the one before the folder had a folder a year. */
async function formerLaptop(folder: FakeFolder): Promise<Laptop> {
	const laptop = await makeLaptop(folder, nerea);
	return {
		...laptop,
		visit: (atMs = noonMs) => former.visitFolder(laptop.store, former.filesIn(folder.handle), atMs)
	};
}
const pathsOf = (folder: FakeFolder, part: string) =>
	[...folder.files.keys()].filter((path) => path.includes(part)).sort();
/** A visit of the same laptop, once its page was updated. */
const visitUpdated = ({ store, folder }: Laptop, atMs: number) =>
	visitFolder(store, filesIn(folder.handle), atMs);

describe('a laptop whose page knows no years, over one folder with those that do', () => {
	it('has everything in the folder itself until it says that it knows them, and nothing is written twice then', async () => {
		const folder = new FakeFolder();
		const [old, one] = [await formerLaptop(folder), await makeLaptop(folder, nerea)];
		await old.visit(noonMs);
		await one.box('a');
		await old.box('b');
		for (const laptop of [one, old, one]) await laptop.visit(noonMs + 1);
		expect(pathsOf(folder, 'files/')).toEqual([]);
		expect(await old.state()).toEqual(await one.state());
		const before = pathsOf(folder, '');
		// It takes over what it had read, and says so; nobody writes anything else.
		expect((await visitUpdated(old, noonMs + 2)).opened).toBe(0);
		await one.visit(noonMs + 3);
		const words = pathsOf(folder, '').filter((path) => !before.includes(path));
		expect(words).toEqual([expect.stringMatching(/^\w+\.knows-years\.json$/)]);
		await one.box('c');
		await one.visit(noonMs + 4);
		expect(pathsOf(folder, 'c.session')).toEqual(['files/2026/c.session.json']);
		await visitUpdated(old, noonMs + 5);
		expect(await old.state()).toEqual(await one.state());
	});

	it('is not waited for once it has signed nothing for longer than a year and a month', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		folder.put(fileName({ kind: 'edit', id: 'x', at: iso(noonMs), by: 'machine9' }), '');
		for (const [id, days] of [
			['early', 399],
			['late', 402]
		] as const) {
			await one.box(id);
			await one.visit(noonMs + days * dayMs);
		}
		expect(pathsOf(folder, 'session')).toEqual(['early.session.json', 'files/2027/late.session.json']);
	});

	it('has every deletion and every card, though it looks in no year', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await one.visit(noonMs);
		// Comes in after years are written, from a copy of its own.
		const old = await formerLaptop(folder);
		await old.box('a');
		await deleteSession(one.store, 'a', noonMs);
		const known = (await getAthlete(one.store, nerea.id)).value!;
		await saveAthlete(
			one.store,
			{ ...known, noSparringUntil: '2026-04-01', changedAt: iso(noonMs + 1) },
			known
		);
		await one.visit(noonMs + 2);
		await old.visit(noonMs + 3);
		expect(await old.ids()).toEqual([]);
		expect((await getAthlete(old.store, nerea.id)).value).toMatchObject({ noSparringUntil: '2026-04-01' });
		for (const { store } of [one, old]) await purgeDeleted(store, dayMs, noonMs + 3 * dayMs);
		for (const laptop of [one, old, one, old]) await laptop.visit(noonMs + 3 * dayMs);
		expect(pathsOf(folder, 'a.session.json')).toEqual([]);
	});

	it('takes nothing out of the folders of the years, and opens nothing there', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook' });
		await one.visit(noonMs);
		const old = await formerLaptop(folder);
		const inYears = pathsOf(folder, 'files/');
		folder.opened.length = folder.listed.length = 0;
		const report = await old.visit(noonMs + 1);
		expect(report.problems).toEqual([]);
		expect(report.foreign.examples.sort()).toEqual([expect.stringMatching(/knows-years/), 'files'].sort());
		expect(folder.listed).toEqual(['']);
		expect(folder.opened.filter((path) => path.startsWith('files/'))).toEqual([]);
		await former.withdraw(old.store, former.filesIn(folder.handle), nerea.id, noonMs + 2);
		expect(pathsOf(folder, 'files/')).toEqual(inYears);
		// It has written its own since, so that from now on everybody's go where it looks.
		await old.visit(noonMs + 2);
		await one.box('b');
		await one.visit(noonMs + 3);
		await old.visit(noonMs + 4);
		expect(await old.ids()).toEqual(['b']);
	});
});

describe('what a browser remembers of the folder', () => {
	it('is read anew, and nothing worse, where a page of the former form went over it in between', async () => {
		const folder = new FakeFolder();
		const [one, reader] = [await makeLaptop(folder, nerea), await makeLaptop(folder)];
		await one.box('a');
		await one.visit(noonMs);
		await reader.visit(noonMs);
		await former.visitFolder(reader.store, former.filesIn(folder.handle), noonMs + 1);
		expect(await valueOf(reader.store, 'folder/memory')).not.toHaveProperty('years');
		await one.box('b');
		await one.visit(noonMs + 2);
		const report = await reader.visit(noonMs + 3);
		expect(report).toMatchObject({ opened: 2, problems: [], cameIn: { sessions: 1 } });
		expect((await reader.visit(noonMs + 4)).opened).toBe(0);
	});

	it('is forgotten with the folder, year by year', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await one.visit(noonMs);
		expect(await valueOf(one.store, 'folder/memory/2026')).toMatchObject({ seen: ['a.session.json'] });
		await keepHandle(one.store, undefined);
		expect(await valueOf(one.store, 'folder/memory/2026')).toBeUndefined();
	});
});
