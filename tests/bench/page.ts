import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type BrowserContext, type Page } from '@playwright/test';
import { findChromium } from '../../e2e/find-chromium.js';
import { summaryOf } from '$lib/review/summary';
import type { SessionRecord } from '$lib/record/body';

const port = Number(process.env.E2E_PORT ?? 4361);
export const address = `http://localhost:${port}/`;

export const chromiumArgs = [
	'--no-sandbox',
	'--enable-features=WebBluetooth',
	'--autoplay-policy=no-user-gesture-required',
	'--disable-background-networking',
	'--disable-component-update',
	'--disable-sync'
];

export function chromiumPath(): string {
	const path = findChromium();
	if (!path) throw new Error('No Chromium found: `node e2e/find-chromium.js` says what to do.');
	return path;
}

/** Builds the page and serves it; the answer ends it. */
export async function serve(): Promise<() => void> {
	const server = spawn(process.execPath, ['src/start.js', '--port', String(port)], {
		stdio: ['ignore', 'pipe', 'inherit']
	});
	await new Promise<void>((resolve, reject) => {
		server.stdout.on('data', (text) => String(text).includes('ready') && resolve());
		server.once('exit', () => reject(new Error(`The page could not be served on port ${port}.`)));
	});
	return () => server.kill();
}

/** A browser with a database on disk, as a user's is, that is gone afterwards. */
export async function withContext<T>(work: (context: BrowserContext) => Promise<T>): Promise<T> {
	const folder = await mkdtemp(join(tmpdir(), 'corner-minute-'));
	const context = await chromium.launchPersistentContext(folder, {
		executablePath: chromiumPath(),
		args: chromiumArgs,
		viewport: { width: 1366, height: 768 }
	});
	try {
		return await work(context);
	} finally {
		await context.close();
		await rm(folder, { recursive: true, force: true, maxRetries: 5 });
	}
}

/** Opens the first screen and waits until all parts of the page lie in the browser's cache. */
export async function openPage(context: BrowserContext): Promise<Page> {
	const page = await context.newPage();
	await page.goto(address);
	await page.waitForFunction(
		() => document.querySelector('button.chief') && !document.querySelector('[inert]')
	);
	await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
	await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
	return page;
}

/** What `seed` puts where. */
export interface Seeding {
	record: SessionRecord;
	from: number;
	to: number;
	/** When the newest began, epoch milliseconds. */
	newestMs: number;
	/** Between one session and the next, days. */
	everyDays: number;
	/** Ids of the athletes, taken in turn. */
	athleteIds: string[];
	hasSummary: boolean;
}

/** Puts copies of a record into the page's database, the later the older. */
export async function seed(page: Page, { record, ...how }: Seeding): Promise<void> {
	const columns = Object.entries(record.body).map(([name, value]) =>
		ArrayBuffer.isView(value)
			? ([name, value.constructor.name, Array.from(value as Uint16Array)] as const)
			: ([name, '', value as number] as const)
	);
	await page.evaluate(
		async ({ columns, head, summary, how }) => {
			const kinds: Record<string, Uint8ArrayConstructor | Uint16ArrayConstructor | Uint32ArrayConstructor> = {
				Uint8Array,
				Uint16Array,
				Uint32Array
			};
			const body = Object.fromEntries(
				columns.map(([name, kind, value]) => [name, Array.isArray(value) ? kinds[kind]!.from(value) : value])
			);
			const database = await new Promise<IDBDatabase>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onsuccess = () => resolve(opening.result);
				opening.onerror = () => reject(new Error('The database could not be opened.'));
			});
			for (let i = how.from; i < how.to;) {
				const writing = database.transaction('entries', 'readwrite');
				const entries = writing.objectStore('entries');
				for (const end = Math.min(how.to, i + 250); i < end; i++) {
					const id = i === 0 ? head.id : `${head.id}-${i}`;
					const athleteId = how.athleteIds[i % how.athleteIds.length]!;
					const startedAt = new Date(how.newestMs - i * how.everyDays * 86_400_000).toISOString();
					const own = { ...head, id, groupId: id, startedAt, athlete: { ...head.athlete, athleteId } };
					entries.put(how.hasSummary ? { head: own, summary } : { head: own }, `head/${id}`);
					entries.put(body, `body/${id}`);
				}
				await new Promise<void>((resolve, reject) => {
					writing.oncomplete = () => resolve();
					writing.onabort = () => reject(new Error(String(writing.error)));
				});
			}
			database.close();
		},
		{ columns, head: record.head, summary: summaryOf(record), how }
	);
}

/** Loads the page anew. A link pressed before it has come to life would load its address. */
export async function openAnew(page: Page): Promise<void> {
	await page.goto(address);
	await page.waitForFunction(() => !document.querySelector('[inert]'));
}

/** What lies in the page's database under keys that begin so. */
export function keysIn(page: Page, prefix: string): Promise<string[]> {
	return page.evaluate(
		(prefix) =>
			new Promise<string[]>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(new Error('The database could not be opened.'));
				opening.onsuccess = () => {
					const asking = opening.result
						.transaction('entries')
						.objectStore('entries')
						.getAllKeys(IDBKeyRange.bound(prefix, `${prefix}\uffff`));
					asking.onsuccess = () => {
						opening.result.close();
						resolve(asking.result.map(String));
					};
				};
			}),
		prefix
	);
}

/** Presses a link and answers the milliseconds until what `goal` names has been painted. */
export function timeToShow(page: Page, link: string, goal: string): Promise<number> {
	return page.evaluate(
		async ({ link, goal }) => {
			const pressed = document.querySelector<HTMLElement>(link);
			if (!pressed) throw new Error(`There is no ${link}.`);
			const startMs = performance.now();
			pressed.click();
			await new Promise<void>((resolve) => {
				const look = () => {
					if (!document.querySelector(goal)) return;
					watch.disconnect();
					// The frame that paints it, and the end of that frame.
					requestAnimationFrame(() => setTimeout(resolve, 0));
				};
				const watch = new MutationObserver(look);
				watch.observe(document.body, { childList: true, subtree: true });
				look();
			});
			return performance.now() - startMs;
		},
		{ link, goal }
	);
}
