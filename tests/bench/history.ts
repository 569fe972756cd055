import type { BrowserContext, Page } from '@playwright/test';
import type { SessionRecord } from '$lib/record/body';
import { floorAddress } from './floor';
import { keysIn, openAnew, openPage, seed, timeToShow, withContext } from './page';
import { recordOf } from './sessions';
import { atMostOf, median, type Row } from './table';

const sizes = [1250, 2500, 5000];
const repeats = 7;
const restMs = 500;
const threeYearsDays = 3 * 365;

/** Five thousand kept hours of five athletes over three years: the list, progress, and measuring all afresh. */
export function historyRows(): Promise<Row[]> {
	return withContext(async (context) => {
		// Counts what the page reads of the sessions' bodies.
		await context.addInitScript(() => {
			const seen = { bodies: 0 };
			Object.assign(window, { seen });
			const covers = (given: unknown) => {
				// `getAllRecords` takes its range as a member.
				const query = given && typeof given === 'object' && 'query' in given ? given.query : given;
				return query instanceof IDBKeyRange
					? query.includes('body/0')
					: !query || String(query).startsWith('body/');
			};
			for (const name of ['get', 'getAll', 'getAllRecords', 'openCursor']) {
				const original = Reflect.get(IDBObjectStore.prototype, name) as (...args: unknown[]) => IDBRequest;
				Object.assign(IDBObjectStore.prototype, {
					[name](this: IDBObjectStore, ...args: unknown[]) {
						if (this.name === 'entries' && covers(args[0])) seen.bodies++;
						return original.apply(this, args);
					}
				});
			}
		});
		const page = await openPage(context);
		const record = await recordOf(1, 'hour');
		const own = (await keysIn(page, 'athlete/'))[0]!.slice('athlete/'.length);
		const seeding = {
			record,
			newestMs: Date.UTC(2026, 8, 1, 18),
			everyDays: threeYearsDays / sizes.at(-1)!,
			athleteIds: [own, 'other-1', 'other-2', 'other-3', 'other-4']
		};
		const lists: number[] = [];
		const progress: number[] = [];
		const indexed: number[] = [];
		let from = 0;
		for (const to of sizes) {
			await seed(page, { ...seeding, from, to, hasSummary: true });
			from = to;
			await openAnew(page);
			indexed.push(await list(page));
			lists.push(median(await times(() => list(page))));
			progress.push(median(await times(() => openProgress(page))));
		}
		const bodies = await page.evaluate(() => (window as unknown as { seen: { bodies: number } }).seen.bodies);

		// As many again, all of the athlete whose progress is shown, and none of them measured yet.
		await seed(page, {
			...seeding,
			record: { ...record, head: { ...record.head, id: 'again' } },
			athleteIds: [own],
			from: 0,
			to: sizes.at(-1)!,
			hasSummary: false
		});
		const { marks, longestMs } = await measureAllAfresh(page, sizes.at(-1)!);
		const rebuiltMs = (count: number) => marks.find(({ done }) => done >= count)?.ms ?? NaN;
		const last = (values: number[]) => values.at(-1)!;
		const plain = await plainRows(context, record);
		const row = atMostOf('History');
		return [
			{
				...row(
					'list of 5,000 shown',
					last(lists),
					2,
					'ms',
					`the first time after all came at once ${last(indexed).toFixed(0)} ms; the floor reads as many and shows them as plain rows`
				),
				floor: plain
			},
			row('bodies read for list and progress', bodies, 0, ''),
			row('three years of progress shown', last(progress), 1000, 'ms'),
			row('list, 5,000 against 1,250', last(lists) / lists[0]!, 4, 'times'),
			row('progress, 5,000 against 1,250', last(progress) / progress[0]!, 4, 'times'),
			row(
				'all summaries measured afresh, 5,000 against 1,250',
				rebuiltMs(sizes.at(-1)!) / rebuiltMs(sizes[0]!),
				4.4,
				'times',
				`5,000 in ${(rebuiltMs(sizes.at(-1)!) / 1000).toFixed(0)} s`
			),
			row('longest hold of the page meanwhile', longestMs, 100, 'ms')
		];
	});
}

/** As many entries as the list shows at once, read and shown by a page that does nothing else. */
async function plainRows(context: BrowserContext, record: SessionRecord): Promise<number> {
	const page = await context.newPage();
	await page.goto(await floorAddress());
	await page.evaluate(
		() =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onupgradeneeded = () => opening.result.createObjectStore('entries');
				opening.onsuccess = () => {
					opening.result.close();
					resolve();
				};
				opening.onerror = () => reject(new Error('The database could not be opened.'));
			})
	);
	await seed(page, {
		record,
		from: 0,
		to: 100,
		newestMs: Date.UTC(2026, 8, 1, 18),
		everyDays: 1,
		athleteIds: ['floor'],
		hasSummary: true
	});
	const shown = await times(async () => {
		await timeToShow(page, 'a[href="/"]', 'main h1');
		await page.waitForTimeout(restMs);
		return timeToShow(page, 'a[href="/rows/"]', 'main li a');
	});
	await page.close();
	return median(shown);
}

async function times(measure: () => Promise<number>): Promise<number[]> {
	const found: number[] = [];
	for (let i = 0; i < repeats; i++) found.push(await measure());
	return found;
}

async function list(page: Page): Promise<number> {
	await timeToShow(page, 'header a[href="/"]', 'button.chief');
	// Behind the list that was left the page reads to the end of what it had asked for.
	await page.waitForTimeout(restMs);
	return timeToShow(page, 'a[href="/sessions/"]', 'main li a');
}

async function openProgress(page: Page): Promise<number> {
	await toAthlete(page);
	return timeToShow(page, 'a[href="/athletes/progress/"]', 'main svg circle');
}

/** To where the athlete's own pages are one press away. */
async function toAthlete(page: Page): Promise<void> {
	await timeToShow(page, 'header a[href="/"]', 'button.chief');
	await timeToShow(page, 'header a[href="/athletes/"]', 'a[href="/athletes/progress/"]');
}

/** When the progress screen had so many done, and the longest task of the page's own thread meanwhile. */
async function measureAllAfresh(page: Page, total: number) {
	await openAnew(page);
	await toAthlete(page);
	await timeToShow(page, 'a[href="/athletes/progress/"]', 'main progress');
	return page.evaluate(
		async ({ total, restMs }) => {
			const found = { longestMs: 0, marks: [] as { done: number; ms: number }[] };
			const watch = new PerformanceObserver((list) => {
				for (const { duration } of list.getEntries()) found.longestMs = Math.max(found.longestMs, duration);
			});
			watch.observe({ type: 'longtask' });
			const startMs = performance.now();
			for (;;) {
				const bar = document.querySelector('main progress');
				if (!(bar instanceof HTMLProgressElement)) break;
				const done = bar.value * total;
				if (done !== found.marks.at(-1)?.done) found.marks.push({ done, ms: performance.now() - startMs });
				await new Promise((resolve) => setTimeout(resolve, 20));
			}
			// The screen that has them all is part of it, and a task is told of when it is over.
			await new Promise((resolve) => setTimeout(resolve, restMs));
			watch.disconnect();
			return found;
		},
		{ total, restMs }
	);
}
