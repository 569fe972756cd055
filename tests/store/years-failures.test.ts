import { describe, expect, it } from 'vitest';
import { FakeFolder } from './fake-folder';
import { dayMs, makeLaptop, nerea, noonMs } from './laptop';
import { filesIn, type FolderFiles } from '$lib/store/folder/door';
import { lookInto } from '$lib/store/folder/listing';
import { visitFolder } from '$lib/store/folder/sync';
import { withdraw } from '$lib/store/folder/withdraw';

/** The folder, one folder in which cannot be listed. */
function unreadable(folder: FakeFolder, path: string, error: string): FolderFiles {
	const files = filesIn(folder.handle);
	return {
		...files,
		async *names(within) {
			let isFirst = true;
			for await (const name of files.names(within)) {
				if (within === path && !isFirst) throw new DOMException('', error);
				isFirst = false;
				yield name;
			}
		}
	};
}

const errors = ['NotFoundError', 'NotAllowedError', 'NotReadableError'];

async function twoYears() {
	const folder = new FakeFolder();
	const one = await makeLaptop(folder, nerea);
	for (const [year, ids] of [
		[2025, ['a', 'b']],
		[2026, ['c', 'd']]
	] as const) {
		for (const id of ids) await one.box(id);
		await one.visit(Date.UTC(year, 2, 3));
	}
	return { folder, one };
}

describe('a folder of a year that cannot be listed now', () => {
	it.each(errors.flatMap((error) => ['files', 'files/2025'].map((path) => [error, path] as const)))(
		'with %s at %s is named, what lay there counts, and the rest is read',
		async (error, path) => {
			const { folder, one } = await twoYears();
			const before = new Map(folder.files);
			const report = await visitFolder(one.store, unreadable(folder, path, error), noonMs);
			expect(report.problems).toEqual([
				{ name: path, problem: expect.stringMatching(/could not be listed now.*again/) }
			]);
			expect(new Map(folder.files)).toEqual(before);
			expect((await one.visit(noonMs)).problems).toEqual([]);

			const newcomer = await makeLaptop(folder);
			await visitFolder(newcomer.store, unreadable(folder, path, error), noonMs);
			expect(await newcomer.ids()).toEqual(path === 'files' ? [] : ['c', 'd']);
			await newcomer.visit(noonMs);
			expect(await newcomer.ids()).toEqual(['a', 'b', 'c', 'd']);
		}
	);

	it('is not passed over where somebody withdraws: what can be removed is, and it is said', async () => {
		const { folder, one } = await twoYears();
		const files = unreadable(folder, 'files/2025', 'NotReadableError');
		const newcomer = await makeLaptop(folder, nerea);
		await visitFolder(newcomer.store, files, noonMs);
		await expect(withdraw(newcomer.store, files, nerea.id, noonMs)).rejects.toMatchObject({
			name: 'NotReadableError'
		});
		expect(folder.names()).toEqual(['a.session.json', 'b.session.json']);
		await withdraw(one.store, filesIn(folder.handle), nerea.id, noonMs);
		expect(folder.names()).toEqual([]);
	});
});

describe('names that nobody should have given', () => {
	it('are left alone: a file called files, and all is written beside it', async () => {
		const folder = new FakeFolder();
		folder.put('files', 'a shopping list');
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		const report = await one.visit(noonMs);
		expect(report).toMatchObject({ problems: [], foreign: { count: 1, examples: ['files'] } });
		expect(folder.names().sort()).toEqual(['a.session.json', expect.stringMatching(/athlete/), 'files']);
		expect((await one.visit(noonMs)).wentOut.sessions).toBe(0);
		expect(folder.files.get('files')?.text).toBe('a shopping list');
	});

	it('are left alone: a file with the name of this year, folders of other names, and folders in folders', async () => {
		const folder = new FakeFolder();
		for (const path of [
			'2026/a.session.json',
			'files/2026',
			'files/2025/files/2025/b.session.json',
			'files/drafts/c.session.json',
			'files/12026/d.session.json',
			'files/2025/machine1.knows-years.json'
		])
			folder.put(path, 'x');
		const before = new Map(folder.files);
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		const { problems, foreign } = await one.visit(noonMs);
		expect(problems).toEqual([]);
		expect(foreign.count).toBe(6);
		expect(foreign.examples).toEqual(
			expect.arrayContaining(['2026', 'files/2025/files', 'files/2025/machine1.knows-years.json'])
		);
		expect(folder.files.has('a.session.json')).toBe(true);
		for (const [path, file] of before) expect(folder.files.get(path)).toEqual(file);
	});

	it('are listed and written into as any other where they are years, the first and the last', async () => {
		const { folder } = await twoYears();
		for (const year of ['0000', '9999'])
			folder.put(`files/${year}/of${year}.session.json`, 'no session at all');
		const newcomer = await makeLaptop(folder);
		const { problems } = await newcomer.visit(noonMs);
		expect(problems.map(({ name }) => name).sort()).toEqual([
			'files/0000/of0000.session.json',
			'files/9999/of9999.session.json'
		]);
		// Half of a file is looked at again each time, listed or not, and told with where it lies.
		folder.listed.length = 0;
		expect((await newcomer.visit(noonMs + dayMs)).problems).toHaveLength(2);
		expect(folder.listed).not.toContain('files/9999');
	});

	it('are too many at 500,000 over all folders, listed now or remembered: nothing is done then', async () => {
		const { folder } = await twoYears();
		const files = filesIn(folder.handle);
		const more: FolderFiles = {
			...files,
			async *names(within) {
				yield* files.names(within);
				if (within?.startsWith('files/')) for (let i = 0; i < 250_000; i++) yield `note-${i}.txt`;
			}
		};
		const none = {
			flat: new Set<string>(),
			seen: new Set<string>(),
			problems: new Map(),
			signedMs: new Map<string, number>(),
			unsentEdits: new Set<string>(),
			isSettled: true
		};
		const look = (count: number) => {
			const names = new Set(Array.from({ length: count }, (_, i) => `${i}.txt`));
			const years = new Map([['2025', { names, listedMs: noonMs + 400 * dayMs, isChanged: false }]]);
			return lookInto(more, { ...none, years }, noonMs + 401 * dayMs, false);
		};
		await expect(look(250_000)).rejects.toThrow(/more than 500000 names/);
		expect(await look(200_000)).toMatchObject({ unread: [], leftOut: ['2025'] });
	});
});
