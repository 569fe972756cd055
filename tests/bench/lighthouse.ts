import lighthouse, { type Config } from 'lighthouse';
import puppeteer, { type Browser } from 'puppeteer-core';
import { waitForSettings } from '../../e2e/hidden-browser';
import { floorAddress } from './floor';
import { address, chromiumArgs, chromiumPath } from './page';
import { median, type Row } from './table';

const runs = 5;
/**
 * What is looked at in one pass. Performance has passes of its own before all others: after one for the others the
 * browser's own start of the next page, before anything of ours, is the longest task of all and is counted.
 */
const passes = [['performance'], ['accessibility', 'best-practices']] as const;
const categories = passes.flat();

/** Start, live and review as Lighthouse sees them, on the built page, by its usual rules (a slow phone). */
export async function lighthouseRows(): Promise<Row[]> {
	const browser = await puppeteer.launch({
		executablePath: chromiumPath(),
		// In a lower window the bar with Start lies over the strap's buttons, which a blind click would miss.
		args: [...chromiumArgs, '--window-size=1366,1000'],
		// Lighthouse has no taste for a viewport that somebody else has set.
		defaultViewport: null
	});
	try {
		const [empty] = await rowsOf(browser, 'empty page', await floorAddress());
		const start = await rowsOf(browser, 'start', address);
		const review = await rowsOf(browser, 'review', await keptSession(browser));
		await runningSession(browser);
		const live = await rowsOf(browser, 'live', `${address}live/`);
		// How fast a page can be on this machine is what an empty one is; the rest is ours alone.
		return [start, live, review].flatMap(([performance, ...others]) => [
			{ ...performance!, control: empty!.measured, limit: 5 },
			...others
		]);
	} finally {
		await browser.close();
	}
}

async function rowsOf(browser: Browser, name: string, url: string): Promise<Row[]> {
	const scores: Record<(typeof categories)[number], number[]> = {
		performance: [],
		accessibility: [],
		'best-practices': []
	};
	const against = new Map<string, Set<string>>();
	for (const pass of passes.flatMap((one) => Array.from({ length: runs }, () => one))) {
		const config: Config = {
			extends: 'lighthouse:default',
			settings: { onlyCategories: [...pass], disableStorageReset: true }
		};
		const result = await lighthouse(
			url,
			{ port: Number(new URL(browser.wsEndpoint()).port), output: 'json', logLevel: 'error' },
			config
		);
		if (!result) throw new Error(`Lighthouse gave no result for ${url}.`);
		for (const category of pass) {
			const { score, auditRefs } = result.lhr.categories[category]!;
			scores[category].push(score === null ? NaN : 100 * score);
			const audits = against.get(category) ?? new Set();
			against.set(category, audits);
			for (const { id, weight } of auditRefs) {
				const audit = result.lhr.audits[id]!;
				if (weight > 0 && audit.scoreDisplayMode === 'error') audits.add(`${id}: ${audit.errorMessage}`);
				else if (weight > 0 && audit.score !== null && audit.score < 1)
					audits.add(`${id}${audit.displayValue ? ` ${audit.displayValue.replaceAll('\u00a0', ' ')}` : ''}`);
			}
		}
	}
	return categories.map((category) => {
		const score = Math.round(median(scores[category].filter(Number.isFinite)));
		return {
			row: `Lighthouse: ${name}, ${category}`,
			measured: score,
			limit: 100,
			kind: 'least',
			unit: '',
			...(!(score >= 100) && { note: [...against.get(category)!].join(', ') })
		};
	});
}

async function openStart(browser: Browser, speed: string) {
	const page = await browser.newPage();
	await page.goto(address);
	await waitForSettings(page);
	await page.select('select:has(option[value="60"])', speed);
	await page.locator('::-p-aria(Use simulated strap)').click();
	await page.waitForSelector('button.chief:not([disabled])');
	return page;
}

/** The address of a kept session's review. */
async function keptSession(browser: Browser): Promise<string> {
	const page = await openStart(browser, '60');
	await page.locator('::-p-aria([name="Start"][role="button"])').click();
	await page.waitForFunction(() => location.pathname === '/review/', { timeout: 120_000 });
	const url = page.url();
	await page.close();
	return url;
}

/** A session that runs on in a tab of its own, for the live screen to watch. */
async function runningSession(browser: Browser): Promise<void> {
	const page = await openStart(browser, '1');
	await page.locator('::-p-aria([name="Start"][role="button"])').click();
	await page.waitForSelector('[role="timer"]');
}
