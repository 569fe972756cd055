import type { Page } from '@playwright/test';
import { gymBackupRows } from './gym-backup';
import { keysIn, openAnew, openPage, seed, timeToShow, withContext } from './page';
import { recordOf } from './sessions';
import { atMostOf, median, type Row } from './table';

const athleteCount = 60;
/** Entries and sessions together, half of each. */
const sizes = [6250, 25_000];
const threeYearsDays = 3 * 365;
const repeats = 5;
const ids = Array.from({ length: athleteCount }, (_, i) => `squad-${String(i).padStart(2, '0')}`);

/** Each place of the page with the link that shows it and the part of it that tells that it is shown. */
const places = {
	'first screen': ['/', 'button.chief'],
	'list of sessions': ['/sessions/', 'main li a'],
	'register of a day': ['/squad/', 'ol[aria-label="Register"] li:nth-child(60)'],
	board: ['/squad/board/', 'tbody tr:nth-child(60)'],
	"an athlete's page": ['/athletes/', 'main .lead']
} as const;
type PlaceName = keyof typeof places;
const names = Object.keys(places) as PlaceName[];

/** Of one opening of a place, the median of some. */
interface Opening {
	ms: number;
	/** Entries that the store had answered by then. */
	values: number;
}

/**
 * Three years of sixty athletes: each place of the page as they grow, the register of a day and the board also against the
 * same sixty rows of whoever has nothing kept, the saving of a row, and a backup of it all, restored in another browser.
 */
export async function squadRows(): Promise<Row[]> {
	const record = await recordOf(1, 'squad');
	return withContext(async (context) => {
		await context.addInitScript(countValues);
		const page = await openPage(context);
		await putAthletes(page);
		await openAnew(page);
		const plain = {
			'register of a day': await openingOf(page, 'register of a day'),
			board: await openingOf(page, 'board')
		};
		const newestMs = Date.now();
		const opened: Record<PlaceName, Opening>[] = [];
		let from = 0;
		for (const to of sizes) {
			const half = { from: from / 2, to: to / 2 };
			const everyDays = threeYearsDays / (sizes.at(-1)! / 2);
			// Up to this moment: the screens show the last day and the last weeks.
			await seed(page, { record, ...half, newestMs, everyDays, athleteIds: ids, hasSummary: true });
			await putDays(page, half, newestMs, everyDays);
			from = to;
			await openAnew(page);
			await open(page, 'register of a day');
			await untilLookedUp(page);
			await untilAtRest(page);
			const of: Partial<Record<PlaceName, Opening>> = {};
			for (const name of names) of[name] = await openingOf(page, name);
			opened.push(of as Record<PlaceName, Opening>);
		}
		const savedMs = await saveRows(page);
		const [small, large] = opened as [Record<PlaceName, Opening>, Record<PlaceName, Opening>];
		const row = atMostOf('Squad');
		const against = (name: keyof typeof plain) =>
			row(
				`${name} of 60, 25,000 entries and sessions, against the same rows with nothing kept`,
				large[name].ms / plain[name].ms,
				2,
				'times',
				`${large[name].ms.toFixed(0)} ms against ${plain[name].ms.toFixed(0)}`
			);
		const growth = (name: PlaceName) => [
			row(
				`${name}, 25,000 against 6,250`,
				large[name].ms / small[name].ms,
				2,
				'times',
				`${large[name].ms.toFixed(0)} ms against ${small[name].ms.toFixed(0)}`
			),
			row(
				`${name}, entries read, 25,000 against 6,250`,
				(large[name].values + 1) / (small[name].values + 1),
				2,
				'times',
				`${large[name].values.toFixed(0)} against ${small[name].values.toFixed(0)}`
			)
		];
		return [
			against('register of a day'),
			against('board'),
			...names.flatMap(growth),
			row('a press to the row as it is saved', savedMs, 17, 'ms', 'one frame'),
			...(await gymBackupRows(page, sizes.at(-1)! / 2))
		];
	});
}

async function openingOf(page: Page, name: PlaceName): Promise<Opening> {
	// The first time looks up what is new, and is the compiler's.
	await open(page, name);
	await untilAtRest(page);
	const times: number[] = [];
	const values: number[] = [];
	for (let i = 0; i < repeats; i++) {
		const before = await valuesRead(page);
		times.push(await open(page, name));
		values.push((await valuesRead(page)) - before);
		await untilAtRest(page);
	}
	return { ms: median(times), values: median(values) };
}

/** A press of a link in the page itself, from a screen that reads nothing to the last part of the place. */
async function open(page: Page, name: PlaceName): Promise<number> {
	await follow(page, '/help/', 'main ol');
	const [path, goal] = places[name];
	return follow(page, path, goal);
}

async function follow(page: Page, path: string, goal: string): Promise<number> {
	await page.evaluate((path) => {
		const link = document.createElement('a');
		link.href = path;
		link.id = 'bench-link';
		document.querySelector('#bench-link')?.remove();
		document.body.append(link);
	}, path);
	return timeToShow(page, '#bench-link', goal);
}

/** Runs in the page: counts the entries that the store answers with. */
function countValues(): void {
	const seen = { values: 0 };
	Object.assign(window, { seen });
	const count = (request: IDBRequest, of: (result: unknown) => number) => {
		request.addEventListener('success', () => (seen.values += of(request.result)));
		return request;
	};
	const one = (result: unknown) => Number(result !== undefined && result !== null);
	const many = (result: unknown) => (Array.isArray(result) ? result.length : 0);
	for (const [name, of] of [
		['get', one],
		['openCursor', one],
		['getAll', many],
		['getAllRecords', many]
	] as const) {
		const original = Reflect.get(IDBObjectStore.prototype, name) as
			((...args: unknown[]) => IDBRequest) | undefined;
		if (!original) continue;
		Object.assign(IDBObjectStore.prototype, {
			[name](this: IDBObjectStore, ...args: unknown[]) {
				return count(original.apply(this, args), of);
			}
		});
	}
}

const valuesRead = (page: Page) =>
	page.evaluate(() => (window as unknown as { seen: { values: number } }).seen.values);

/** Milliseconds from a press to the row that shows it, the median of twenty rows. */
async function saveRows(page: Page): Promise<number> {
	await open(page, 'register of a day');
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
async function untilLookedUp(page: Page): Promise<void> {
	const count = async (prefix: string) => (await keysIn(page, prefix)).length;
	for (let tries = 0; (await count('head/')) !== (await count('here-training-')); tries++) {
		if (tries === 120) throw new Error('Not every session was looked up within two minutes.');
		await page.waitForTimeout(1000);
	}
}

/** Behind a screen the page reads on; the next one would be measured beside that. */
async function untilAtRest(page: Page): Promise<void> {
	for (let before = NaN, now = await valuesRead(page); now !== before;) {
		before = now;
		await page.waitForTimeout(2000);
		now = await valuesRead(page);
	}
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
