import { describe, expect, it } from 'vitest';
import { makeDay, makeEntry } from '../review/training-days';
import { padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { bo, dayMs, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { filesIn } from '$lib/store/folder/door';
import { holdings } from '$lib/store/folder/report';
import { visitFolder } from '$lib/store/folder/sync';
import { withdraw } from '$lib/store/folder/withdraw';
import { savePlan } from '$lib/store/plans';
import { deleteSession } from '$lib/store/sessions';

const yearMs = 365 * dayMs;
const marchOf = (year: number) => Date.UTC(year, 2, 3, 12);
const pathsOf = (folder: FakeFolder, part: string) =>
	[...folder.files.keys()].filter((path) => path.includes(part)).sort();
const lookAll = ({ store, folder }: Laptop, atMs: number) =>
	visitFolder(store, filesIn(folder.handle), atMs, undefined, undefined, true);

/** What a visit lists and opens. */
async function looksOf(laptop: Laptop, atMs: number) {
	const { folder } = laptop;
	folder.listed.length = folder.opened.length = 0;
	const report = await laptop.visit(atMs);
	return { report, listed: [...folder.listed].sort(), opened: [...folder.opened].sort() };
}

/** A folder into which one session a year was written from 2017 on, and a laptop that has read it in 2026: two cards besides. */
async function tenYears() {
	const folder = new FakeFolder();
	const [writer, reader] = [await makeLaptop(folder, nerea), await makeLaptop(folder, nerea)];
	for (let year = 2017; year <= 2026; year++) {
		await writer.box(`s${year}`);
		await writer.visit(marchOf(year));
	}
	const first = await looksOf(reader, noonMs);
	return { folder, writer, reader, first };
}

const all = Array.from({ length: 10 }, (_, i) => `files/${2017 + i}`);

describe('what is written into the shared folder', () => {
	it('lies by the year of writing where it is added up, and in the folder itself where it says how things stand', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await one.box('b');
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook' });
		await saveDay(one.store, nerea.id, '2025-12-31', { changed: makeDay(makeEntry()) }, noonMs);
		await savePlan(one.store, { id: 'p', plan: padsPlan }, noonMs);
		await one.visit(noonMs);
		await deleteSession(one.store, 'b', noonMs);
		await one.visit(noonMs);
		const places = Object.fromEntries(
			[...folder.files.keys()].map((path) => [path.split('.').at(-2), path.split('/').slice(0, -1).join('/')])
		);
		expect(places).toEqual({
			session: 'files/2026',
			edit: 'files/2026',
			days: 'files/2026',
			athlete: '',
			plan: '',
			'session-deleted': '',
			'knows-years': ''
		});
	});

	it('goes into the year of the clock of whoever writes it, and comes to laptops of another year', async () => {
		const folder = new FakeFolder();
		const [ahead, behind] = [await makeLaptop(folder, nerea), await makeLaptop(folder, nerea)];
		await behind.visit(noonMs - yearMs);
		await ahead.box('a');
		await ahead.visit(noonMs + yearMs);
		await behind.box('b');
		await behind.visit(noonMs - yearMs);
		await ahead.visit(noonMs + yearMs);
		expect(pathsOf(folder, 'session')).toEqual(['files/2025/b.session.json', 'files/2027/a.session.json']);
		expect([await ahead.ids(), await behind.ids()]).toEqual([
			['a', 'b'],
			['a', 'b']
		]);
	});

	it('is put right where it lies cut short, whatever the year is by now', async () => {
		const { folder, writer } = await tenYears();
		const path = 'files/2017/s2017.session.json';
		const whole = folder.files.get(path)!.text;
		folder.put(path, whole.slice(0, 100));
		const newcomer = await makeLaptop(folder, nerea);
		await newcomer.box('s2017');
		expect((await newcomer.visit(noonMs)).problems).toEqual([]);
		expect(pathsOf(folder, 's2017')).toEqual([path]);
		expect(folder.files.get(path)!.text).toBe(whole);
		expect((await lookAll(writer, noonMs)).problems).toEqual([]);
	});

	it('is counted among what the folder holds of somebody, wherever it lies', async () => {
		const { reader } = await tenYears();
		expect(await holdings(reader.store)).toMatchObject([{ name: 'Nerea', sessions: 10, hasCard: true }]);
	});
});

describe('a visit to a folder of ten years', () => {
	it('lists all at the first time, then what somebody may write into, and opens what is new alone', async () => {
		const { folder, writer, reader, first } = await tenYears();
		expect(first.listed).toEqual(['', 'files', ...all]);
		expect(first.report.cameIn.sessions).toBe(10);
		const next = await looksOf(reader, noonMs + dayMs);
		expect(next.listed).toEqual(['', 'files', 'files/2025', 'files/2026']);
		expect(next.report).toMatchObject({ listed: 10 + 2, opened: 0, problems: [] });
		expect(next.report.leftOut).toEqual(['2017', '2018', '2019', '2020', '2021', '2022', '2023', '2024']);
		await writer.box('new');
		await writer.visit(noonMs + dayMs);
		const last = await looksOf(reader, noonMs + 2 * dayMs);
		expect(last.opened).toEqual(['files/2026/new.session.json']);
		// Nothing that lies in years that were not listed is written again.
		expect(pathsOf(folder, '.session.json')).toHaveLength(11);
	});

	it('lists the older years once a week, and now where that is asked for', async () => {
		const { folder, reader } = await tenYears();
		folder.put('files/2018/late.session.json', folder.files.get('files/2018/s2018.session.json')!.text);
		expect((await looksOf(reader, noonMs + 6 * dayMs)).report.problems).toEqual([]);
		expect(await looksOf(reader, noonMs + 7 * dayMs)).toMatchObject({
			listed: ['', 'files', ...all],
			report: { problems: [{ name: 'files/2018/late.session.json' }], leftOut: [] }
		});
		folder.listed.length = 0;
		await lookAll(reader, noonMs + 8 * dayMs);
		expect(folder.listed.sort()).toEqual(['', 'files', ...all]);
	});

	it('lists each time where something came lately, however wrong the clock is that writes there', async () => {
		const { folder, reader } = await tenYears();
		const lost = await makeLaptop(folder, nerea);
		await lost.visit(marchOf(1970));
		for (const [i, id] of ['x', 'y', 'z'].entries()) {
			await lost.box(id);
			await lost.visit(marchOf(1970));
			await reader.visit(noonMs + (i + 1) * dayMs);
			expect(await reader.ids()).toContain(id);
		}
		const { listed } = await looksOf(reader, noonMs + 4 * dayMs);
		expect(listed).toEqual(['', 'files', 'files/1970', 'files/2025', 'files/2026']);
		await looksOf(reader, noonMs + 40 * dayMs);
		expect((await looksOf(reader, noonMs + 41 * dayMs)).listed).not.toContain('files/1970');
	});

	it('writes again what was removed from an older year, once that is found out', async () => {
		const { folder, reader } = await tenYears();
		folder.files.delete('files/2018/s2018.session.json');
		await reader.visit(noonMs + dayMs);
		expect(pathsOf(folder, 's2018.session')).toEqual([]);
		await reader.visit(noonMs + 7 * dayMs);
		expect(pathsOf(folder, 's2018.session')).toEqual(['files/2026/s2018.session.json']);
	});

	it('takes a whole year that is gone for gone, and reads one that has come half for what it is', async () => {
		const { folder, reader } = await tenYears();
		const newcomer = await makeLaptop(new FakeFolder());
		const half = [...folder.files].filter(([path]) => !/201[789]/.test(path));
		for (const [path, { text }] of half) newcomer.folder.put(path, text);
		await newcomer.visit(noonMs);
		expect(await newcomer.ids()).toHaveLength(7);
		newcomer.folder.copyFrom(folder);
		await newcomer.visit(noonMs);
		expect(await newcomer.ids()).toEqual(await reader.ids());
		for (const [path] of newcomer.folder.files)
			if (path.includes('2018/')) newcomer.folder.files.delete(path);
		newcomer.folder.folders.delete('files/2018');
		expect((await newcomer.visit(noonMs)).listed).toBe(10 - 1 + 2);
	});

	it('opens the rest of an older year the next time where it was called off', async () => {
		const { folder } = await tenYears();
		const newcomer = await makeLaptop(folder);
		folder.opened.length = 0;
		const stopped = visitFolder(
			newcomer.store,
			filesIn(folder.handle),
			noonMs,
			() => folder.opened.length < 4
		);
		await expect(stopped).rejects.toMatchObject({ name: 'Interrupted' });
		const { listed, opened } = await looksOf(newcomer, noonMs);
		expect(listed).toEqual(['', 'files', 'files/2025', 'files/2026']);
		expect(opened).toHaveLength(10 + 2 - 4);
		expect(await newcomer.ids()).toHaveLength(10);
		expect((await looksOf(newcomer, noonMs)).opened).toEqual([]);
	});
});

describe('a file that lies in two places', () => {
	it('is one file: read once, and gone from both where it goes', async () => {
		const { folder, reader } = await tenYears();
		const { text } = folder.files.get('files/2018/s2018.session.json')!;
		folder.put('s2018.session.json', text);
		folder.put('files/2026/s2018.session.json', text);
		const { report, opened } = await looksOf(reader, noonMs);
		expect([report.listed, report.problems, opened]).toEqual([10 + 2, [], []]);
		const newcomer = await makeLaptop(folder);
		expect((await newcomer.visit(noonMs)).opened).toBe(10 + 2);
		await deleteSession(reader.store, 's2018', noonMs);
		await reader.visit(noonMs);
		await reader.visit(noonMs + 2 * dayMs);
		expect(pathsOf(folder, 's2018.session.json')).toEqual([]);
	});

	it('is taken from where it is whole', async () => {
		const { folder } = await tenYears();
		const { text } = folder.files.get('files/2018/s2018.session.json')!;
		folder.put('s2018.session.json', text.slice(0, 200));
		const newcomer = await makeLaptop(folder, nerea);
		await newcomer.visit(noonMs);
		expect(await newcomer.ids()).toContain('s2018');
		expect((await newcomer.visit(noonMs)).problems).toEqual([]);
	});

	it('is withdrawn from every year, those that were not due too', async () => {
		const { folder, reader } = await tenYears();
		folder.put('files/2019/copy.json', 'none of ours');
		folder.put('files/2019/s2018.session.json', folder.files.get('files/2018/s2018.session.json')!.text);
		await withdraw(reader.store, filesIn(folder.handle), nerea.id, noonMs + dayMs);
		expect(folder.names()).toEqual(['copy.json']);
		expect((await makeLaptop(folder, bo).then((laptop) => laptop.visit(noonMs))).cameIn.sessions).toBe(0);
	});
});
