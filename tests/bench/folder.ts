import { openDatabase, type UseStore } from '$lib/store/database';
import { filesIn, type FolderFiles } from '$lib/store/folder/door';
import { visitFolder } from '$lib/store/folder/sync';
import { fileName, type StampedName } from '$lib/store/folder/names';
import { sessionText, stampedText } from '$lib/store/folder/text';
import { makeRecord } from '../store/builders';
import { FakeFolder } from '../store/fake-folder';

/** What a folder with very many sessions costs. */
export interface FolderFigures {
	/** Session files that had been read before. */
	files: number;
	/** Until all names were listed and told apart, ms. */
	listMs: number;
	/** The whole visit that finds the new ones, ms. */
	visitMs: number;
	/** Session files that were new, and files that the visit opened. */
	fresh: number;
	opened: number;
}

const sessionId = (i: number) => `session-${String(i).padStart(6, '0')}`;

/**
 * A folder in memory, visited by the page's own code over a database in memory: first with everything new, then
 * with `fresh` files more, which is what is measured. Needs no page.
 */
export async function measureFolder(files = 20_000, fresh = 100): Promise<FolderFigures> {
	const folder = new FakeFolder();
	const put = async (from: number, to: number) => {
		for (let i = from; i < to; i++)
			folder.put(`${sessionId(i)}.session.json`, await sessionText(makeRecord({ id: sessionId(i) })));
	};
	const store = openDatabase();
	await put(0, files);
	await visitFolder(store, filesIn(folder.handle), Date.now());
	await put(files, files + fresh);
	folder.opened.length = 0;

	const startMs = performance.now();
	let listMs = NaN;
	const whole = filesIn(folder.handle);
	await visitFolder(
		store,
		{
			...whole,
			async *names(within) {
				yield* whole.names(within);
				listMs = performance.now() - startMs;
			}
		},
		Date.now()
	);
	return { files, listMs, visitMs: performance.now() - startMs, fresh, opened: folder.opened.length };
}

/** What a gym of many years costs at a visit. */
export interface YearsFigures {
	/** Sessions and as many corrections in the folders of all years, read before. */
	files: number;
	years: number;
	/** Until the names of the years that are due were listed and all told apart, ms. */
	listMs: number;
	/** The whole visit that finds the new ones, ms, and how much of that the database took. */
	visitMs: number;
	databaseMs: number;
	/** Paths of the folders that were listed. */
	listed: string[];
	fresh: number;
	opened: number;
}

/** The same of a folder into which so many files were written in each of ten years; new ones lie in the last. */
export async function measureYears(aYear = 20_000, fresh = 100): Promise<YearsFigures> {
	const folder = new FakeFolder();
	const thisYear = new Date().getUTCFullYear();
	const put = async (from: number, to: number, year: number) => {
		const at = new Date(Date.UTC(year, 0, 2)).toISOString();
		for (let i = from; i < to; i += 2) {
			const id = sessionId(i);
			const edit: StampedName = { kind: 'edit', id, at, by: 'machine1' };
			folder.put(`files/${year}/${id}.session.json`, await sessionText(makeRecord({ id })));
			folder.put(
				`files/${year}/${fileName(edit)}`,
				await stampedText(edit, { edit: { at, note: 'left hook' } })
			);
		}
	};
	const years = 10;
	for (let i = 0; i < years; i++) await put(i * aYear, (i + 1) * aYear, thisYear - years + 1 + i);
	const store = openDatabase();
	await visitFolder(store, filesIn(folder.handle), Date.now());
	const files = years * aYear;
	await put(files, files + fresh, thisYear);
	folder.opened.length = folder.listed.length = 0;

	let databaseMs = 0;
	const timed: UseStore = async (mode, work) => {
		const fromMs = performance.now();
		try {
			return await store(mode, work);
		} finally {
			databaseMs += performance.now() - fromMs;
		}
	};
	const startMs = performance.now();
	let listMs = NaN;
	const whole = filesIn(folder.handle);
	const listing: FolderFiles = {
		...whole,
		async open(path) {
			if (Number.isNaN(listMs)) listMs = performance.now() - startMs;
			return whole.open(path);
		}
	};
	await visitFolder(timed, listing, Date.now());
	const visitMs = performance.now() - startMs;
	const { listed, opened } = folder;
	return { files, years, listMs, visitMs, databaseMs, listed, fresh, opened: opened.length };
}
