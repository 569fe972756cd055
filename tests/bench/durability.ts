import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type CDPSession, type Page } from '@playwright/test';
import { chromiumArgs, chromiumPath } from './page';
import { median, type Row } from './table';

type Durability = 'relaxed' | 'strict';

/** From the request to `complete`, epoch milliseconds. */
type Span = readonly [from: number, until: number];

const appends = 40;
/** The journal makes no more than two in a second. */
const everyMs = 500;

/**
 * What asking for durability (Indexed Database API 3.0) comes to in this Chromium: how often it has the system call that
 * waits for the disk before it says `complete`, and what part of a core the journal of eight boxers takes.
 */
export async function durabilityRows(): Promise<Row[]> {
	const plain = await withPage(chromiumPath(), async (page, session) => {
		// A browser that has just begun has work of its own for some seconds.
		await appendsOf(page, session, 'relaxed');
		const before = await processorMs(session);
		await page.waitForTimeout(appends * everyMs);
		const atRest = (100 * ((await processorMs(session)) - before)) / (appends * everyMs);
		return { atRest, ...(await bothOf((durability) => appendsOf(page, session, durability))) };
	});
	const syncs = await countedSyncs().catch((problem: unknown) => String(problem));
	const counted = (durability: Durability) => (typeof syncs === 'string' ? [] : syncs[durability]);
	const note = typeof syncs === 'string' ? { note: syncs } : {};
	return [
		{
			row: 'Durability: syncs of the disk before a strict write is complete, fewest',
			measured: counted('strict').length > 0 ? Math.min(...counted('strict')) : undefined,
			limit: 1,
			kind: 'least',
			unit: '',
			...note
		},
		{
			row: 'Durability: the same of a relaxed write, most',
			measured: counted('relaxed').length > 0 ? Math.max(...counted('relaxed')) : undefined,
			limit: 0,
			kind: 'most',
			unit: '',
			...note
		},
		{
			row: 'Journal: from an append to its completion, strict; control relaxed',
			measured: median(plain.strict.ms),
			control: median(plain.relaxed.ms),
			limit: 25,
			kind: 'most',
			unit: 'ms'
		},
		{
			row: 'Journal: share of one core with eight boxers; control the same page at rest',
			measured: plain.strict.sharePercent,
			control: plain.atRest,
			limit: 1,
			kind: 'most',
			unit: '%',
			note: `two appends a second; with relaxed ones ${plain.relaxed.sharePercent.toFixed(2)} %`
		}
	];
}

interface Appended {
	spans: Span[];
	ms: number[];
	/** What all processes of the browser took of one core meanwhile. */
	sharePercent: number;
}

async function bothOf<T>(of: (durability: Durability) => Promise<T>): Promise<Record<Durability, T>> {
	return { relaxed: await of('relaxed'), strict: await of('strict') };
}

/** As the journal does it: where does it end, and one chunk there. */
async function appendsOf(page: Page, session: CDPSession, durability: Durability): Promise<Appended> {
	const before = await processorMs(session);
	const startMs = performance.now();
	const spans = await page.evaluate(
		async ({ durability, appends, everyMs }) => {
			const now = () => performance.timeOrigin + performance.now();
			const database = await new Promise<IDBDatabase>((resolve, reject) => {
				const opening = indexedDB.open('journal');
				opening.onupgradeneeded = () => opening.result.createObjectStore('entries');
				opening.onsuccess = () => resolve(opening.result);
				opening.onerror = () => reject(new Error('The database could not be opened.'));
			});
			const chunk = Array.from({ length: 8 }, (_, corner) => ({
				...{ kind: 'reading', corner, ms: 1000, bpm: 150, contact: 'contact' },
				rrMs: [400.390625, 398.4375]
			}));
			const spans: (readonly [number, number])[] = [];
			for (let i = 0; i < appends; i++) {
				const from = now();
				const writing = database.transaction('entries', 'readwrite', { durability });
				const entries = writing.objectStore('entries');
				entries.openKeyCursor(null, 'prev').onsuccess = () =>
					entries.put(chunk, `${durability}/${String(i).padStart(8, '0')}`);
				await new Promise((resolve) => (writing.oncomplete = resolve));
				spans.push([from, now()]);
				await new Promise((resolve) => setTimeout(resolve, everyMs));
			}
			database.close();
			return spans;
		},
		{ durability, appends, everyMs }
	);
	const spent = (await processorMs(session)) - before;
	return {
		spans,
		ms: spans.map(([from, until]) => until - from),
		sharePercent: (100 * spent) / (performance.now() - startMs)
	};
}

/** What all processes of the browser have spent on the processor so far. */
async function processorMs(session: CDPSession): Promise<number> {
	const { processInfo } = await session.send('SystemInfo.getProcessInfo');
	return 1000 * processInfo.reduce((sum, { cpuTime }) => sum + cpuTime, 0);
}

/** Syncs of the database's files between the request and the completion of each append. */
async function countedSyncs(): Promise<Record<Durability, number[]>> {
	const folder = await mkdtemp(join(tmpdir(), 'corner-minute-'));
	const [traced, calls] = [join(folder, 'traced'), join(folder, 'calls')];
	try {
		await writeFile(
			traced,
			`#!/bin/sh\nexec strace -f -y -ttt -e trace=fsync,fdatasync -e signal=none -o '${calls}' '${chromiumPath()}' "$@"\n`
		);
		await chmod(traced, 0o755);
		const spans = await withPage(traced, (page, session) =>
			bothOf(async (durability) => (await appendsOf(page, session, durability)).spans)
		);
		const moments = (await readFile(calls, 'utf8'))
			.split('\n')
			.flatMap((line) => /^\d+ +([\d.]+) f(?:data)?sync\(.*IndexedDB/.exec(line)?.[1] ?? [])
			.map((seconds) => Number(seconds) * 1000);
		return bothOf(async (durability) =>
			spans[durability].map(([from, until]) => moments.filter((ms) => ms >= from && ms <= until).length)
		);
	} finally {
		await rm(folder, { recursive: true, force: true, maxRetries: 5 });
	}
}

/** An empty page with a database on disk, and the browser that it is in. */
async function withPage<T>(
	executablePath: string,
	work: (page: Page, session: CDPSession) => Promise<T>
): Promise<T> {
	const folder = await mkdtemp(join(tmpdir(), 'corner-minute-'));
	const server = await serveNothing();
	const context = await chromium.launchPersistentContext(folder, {
		executablePath,
		args: chromiumArgs,
		timeout: 300_000
	});
	try {
		const page = await context.newPage();
		await page.goto(`http://localhost:${(server.address() as AddressInfo).port}/`);
		return await work(page, await context.browser()!.newBrowserCDPSession());
	} finally {
		await context.close();
		server.close();
		await rm(folder, { recursive: true, force: true, maxRetries: 5 });
	}
}

async function serveNothing(): Promise<Server> {
	const server = createServer((_, answer) =>
		answer.setHeader('content-type', 'text/html').end('<!doctype html><title>Nothing</title>')
	);
	await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve));
	return server;
}
