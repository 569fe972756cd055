import puppeteer, { type Browser, type Page } from 'puppeteer-core';

/**
 * A browser in which a tab behind another one is really hidden and throttled, as on a user's laptop. Playwright keeps
 * every page visible, and either driver leaves timers alone unless told otherwise.
 */
export function launchHiding(executablePath: string, args: string[]): Promise<Browser> {
	return puppeteer.launch({
		executablePath,
		args,
		defaultViewport: { width: 1366, height: 768 },
		// With these a tab behind another one would not be throttled, and nothing would be proved by it.
		ignoreDefaultArgs: [
			'--disable-background-timer-throttling',
			'--disable-backgrounding-occluded-windows',
			'--disable-renderer-backgrounding'
		]
	});
}

/** Puts another tab before this one. */
export async function hide(page: Page): Promise<void> {
	const other = await page.browser().newPage();
	await other.bringToFront();
}

/** Presses the button of this name. */
export async function press(page: Page, name: string): Promise<void> {
	await page.locator(`::-p-aria([name="${name}"][role="button"])`).click();
}

/** Starts a session of this plan on the practice strap, at the pace of life. */
export async function startPractice(page: Page, address: string, plan: object): Promise<void> {
	await page.goto(address);
	await waitForSettings(page);
	await keepPlan(page, plan);
	await page.reload();
	await waitForSettings(page);
	await page.select('select:has(option[value="60"])', '1');
	await press(page, 'Use practice strap');
	await page.waitForSelector('button.chief:not([disabled])');
	await press(page, 'Start');
	await page.waitForSelector('[role="timer"]');
}

/** The built page shows its first screen before there is a database: it takes no press until that has been read. */
export async function waitForSettings(page: Page): Promise<void> {
	await page.waitForFunction(
		() => document.querySelector('button.chief') && !document.querySelector('[inert]')
	);
}

function keepPlan(page: Page, plan: object): Promise<void> {
	return page.evaluate(
		(plan) =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(new Error('The database could not be opened.'));
				opening.onsuccess = () => {
					const writing = opening.result.transaction('entries', 'readwrite');
					writing.objectStore('entries').put(plan, 'setting/lastPlan');
					writing.objectStore('entries').put(true, 'setting/firstQuestionsAsked');
					writing.oncomplete = () => {
						opening.result.close();
						resolve();
					};
				};
			}),
		plan
	);
}
