import type { Page } from '@playwright/test';
import { openPage, seed, timeToShow, withContext } from './page';
import { recordOf } from './sessions';
import { atMostOf, median, type Row } from './table';

const athleteCount = 60;
/** Entries and sessions together, half of each. */
const sizes = [6250, 25_000];
const threeYearsDays = 3 * 365;
const repeats = 5;
const ids = Array.from({ length: athleteCount }, (_, i) => `squad-${String(i).padStart(2, '0')}`);

/**
 * Three years of sixty athletes: the register of a day and the board, against the same sixty rows of whoever has nothing kept,
 * and the saving of a row.
 */
export async function squadRows(): Promise<Row[]> {
	const record = await recordOf(1, 'squad');
	return withContext(async (context) => {
		const page = await openPage(context);
		await putAthletes(page);
		await page.reload();
		await page.waitForFunction(() => !document.querySelector('[inert]'));
		const newestMs = Date.now();
		const shown = { register: [] as number[], board: [] as number[] };
		const take = async () => {
			// The first time looks up what is new, and is the compiler's.
			for (const [path, goal] of places) await open(page, path, goal);
			for (const [path, goal, name] of places) {
				const times: number[] = [];
				for (let i = 0; i < repeats; i++) times.push(await open(page, path, goal));
				shown[name].push(median(times));
			}
		};
		await take();
		let from = 0;
		for (const to of sizes) {
			const half = { from: from / 2, to: to / 2 };
			const everyDays = threeYearsDays / (sizes.at(-1)! / 2);
			// Up to this moment: the screens show the last day and the last weeks.
			await seed(page, { record, ...half, newestMs, everyDays, athleteIds: ids, hasSummary: true });
			await putDays(page, half, newestMs, everyDays);
			from = to;
			await page.reload();
			await page.waitForFunction(() => !document.querySelector('[inert]'));
			await open(page, places[0][0], places[0][1]);
			await untilLookedUp(page);
			await take();
		}
		const savedMs = await saveRows(page);
		const row = atMostOf('Squad');
		return (['register', 'board'] as const)
			.flatMap((name) => {
				const [plain, small, large] = shown[name] as [number, number, number];
				const what = name === 'register' ? 'register of a day' : 'board';
				return [
					row(
						`${what} of 60, 25,000 entries and sessions, against the same rows with nothing kept`,
						large / plain,
						2,
						'times',
						`${large.toFixed(0)} ms against ${plain.toFixed(0)}`
					),
					row(`${what}, 25,000 against 6,250`, large / small, 2, 'times')
				];
			})
			.concat(row('a press to the row as it is saved', savedMs, 17, 'ms', 'one frame'));
	});
}

const places = [
	['/squad/', 'ol[aria-label="Register"] li:nth-child(60)', 'register'],
	['/squad/board/', 'tbody tr:nth-child(60)', 'board']
] as const;

/** A press of a link in the page itself, from the first screen to the sixtieth row. */
async function open(page: Page, path: string, goal: string): Promise<number> {
	await timeToShow(page, 'header a[href="/"]', 'button.chief');
	await page.evaluate((path) => {
		const link = document.createElement('a');
		link.href = path;
		link.id = 'bench-link';
		document.querySelector('#bench-link')?.remove();
		document.body.append(link);
	}, path);
	return timeToShow(page, '#bench-link', goal);
}

/** Milliseconds from a press to the row that shows it, the median of twenty rows. */
async function saveRows(page: Page): Promise<number> {
	await open(page, places[0][0], places[0][1]);
	const times = await page.evaluate(async () => {
		const cells = [...document.querySelectorAll<HTMLElement>('[data-row]')].slice(0, 20);
		const found: number[] = [];
		for (const cell of cells) {
			cell.focus();
			const startMs = performance.now();
			const changed = new Promise<void>((resolve) => {
				const watch = new MutationObserver(() => {
					watch.disconnect();
					resolve();
				});
				watch.observe(cell, { childList: true, characterData: true, subtree: true });
			});
			cell.dispatchEvent(new KeyboardEvent('keydown', { key: '7', bubbles: true, cancelable: true }));
			await changed;
			found.push(performance.now() - startMs);
			await new Promise((resolve) => setTimeout(resolve, 50));
		}
		return found;
	});
	return median(times);
}

/**
 * The sessions were put past the page, as one of an earlier version would, and are looked up behind the first opening: until
 * each has its row, what is opened would be measured beside that.
 */
function untilLookedUp(page: Page): Promise<unknown> {
	return page.waitForFunction(
		async () => {
			const database = await new Promise<IDBDatabase>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onsuccess = () => resolve(opening.result);
				opening.onerror = () => reject(new Error('The database could not be opened.'));
			});
			const entries = database.transaction('entries').objectStore('entries');
			const counts = ['head/', 'here-training-'].map(
				(prefix) =>
					new Promise<number>((resolve) => {
						const counting = entries.count(IDBKeyRange.bound(prefix, `${prefix}\uffff`));
						counting.onsuccess = () => resolve(counting.result);
					})
			);
			const [heads, rows] = await Promise.all(counts);
			database.close();
			return heads === rows;
		},
		undefined,
		{ polling: 1000, timeout: 120_000 }
	);
}

function putAthletes(page: Page): Promise<void> {
	return put(
		page,
		ids.map((id, i) => [`athlete/${id}`, { id, name: `Boxer ${i + 1}` }])
	);
}

/** A day with one training in it, taken in turn, the later the older. */
function putDays(
	page: Page,
	{ from, to }: { from: number; to: number },
	newestMs: number,
	everyDays: number
): Promise<void> {
	const entries = Array.from({ length: to - from }, (_, at): [string, unknown] => {
		const i = from + at;
		const moment = new Date(newestMs - (i + 0.5) * everyDays * 86_400_000).toISOString();
		const id = `entry-${i}`;
		const value = { id, activity: 'pads', minutes: 60, effort: i % 11, madeAt: moment };
		const date = moment.slice(0, 10);
		return [
			`day/${ids[(i * 7) % athleteCount]}/${date}`,
			{ [`entries/${id}`]: [{ value, at: moment, by: 'bench' }] }
		];
	});
	return put(page, entries);
}

function put(page: Page, entries: readonly [string, unknown][]): Promise<void> {
	return page.evaluate(async (entries) => {
		const database = await new Promise<IDBDatabase>((resolve, reject) => {
			const opening = indexedDB.open('corner-minute');
			opening.onsuccess = () => resolve(opening.result);
			opening.onerror = () => reject(new Error('The database could not be opened.'));
		});
		const writing = database.transaction('entries', 'readwrite');
		for (const [key, value] of entries) writing.objectStore('entries').put(value, key);
		await new Promise<void>((resolve, reject) => {
			writing.oncomplete = () => resolve();
			writing.onabort = () => reject(new Error(String(writing.error)));
		});
		database.close();
	}, entries);
}
