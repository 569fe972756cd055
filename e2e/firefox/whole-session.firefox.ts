import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { expect, test as base } from '@playwright/test';
import type { ElementHandle } from 'puppeteer-core';
import { press, waitForSettings } from '../hidden-browser';
import { patienceMs } from '../patience';
import { OtherBrowser } from './other-browser';

const test = base.extend<{ one: OtherBrowser; other: OtherBrowser }>({
	one: ({ baseURL }, use) => whole(baseURL, use),
	other: ({ baseURL }, use) => whole(baseURL, use)
});

async function whole(baseURL: string | undefined, use: (browser: OtherBrowser) => Promise<void>) {
	const browser = await OtherBrowser.start();
	await use(browser);
	expect.soft(browser.errors, 'errors on the console').toEqual([]);
	expect.soft([...browser.asked], 'who was asked for anything').toEqual([new URL(baseURL ?? '').origin]);
	await browser.close();
}

test('where no strap can be reached the simulated one makes a session, its review, and a backup that another browser restores', async ({
	one,
	other,
	baseURL
}) => {
	const { page } = one;
	await test.step('the first screen says so, and what works all the same', async () => {
		await one.open(`${baseURL}/`);
		await waitForSettings(page);
		await one.says('This browser cannot reach a strap.');
		await one.fill('Threshold, beats a minute', 150);
		await press(page, 'Save');
		expect(await page.$('::-p-aria([name="Pair strap"][role="button"])')).toBeNull();
	});

	await test.step('two rounds, a minute of rest after each, with the bell', async () => {
		await page.locator('::-p-text(Change the plan)').click();
		const plan = { Rounds: 2, 'Round, seconds': 60, 'Rest, seconds': 60, 'Get ready, seconds': 0 };
		for (const [name, value] of Object.entries({ ...plan, 'Warm-up, seconds': 0, 'Cool-down, seconds': 0 }))
			await one.fill(name, value);
		await page.select('select:has(option[value="60"])', '60');
		await press(page, 'Use simulated strap');
		await page.waitForSelector('button.chief:not([disabled])');
		await press(page, 'Start');
		await page.waitForSelector('[role="timer"]');
		await page.waitForFunction(() => location.pathname === '/review/');
	});

	await test.step('the review has both drops, and its pictures are drawn', async () => {
		await one.says(/Drops \d+, \d+/);
		await page.waitForSelector('[aria-label^="Fall of the heart rate"] canvas');
		const inked = await page.$eval('[aria-label^="Fall of the heart rate"] canvas', (canvas) => {
			const { width, height } = canvas as HTMLCanvasElement;
			const pixels = (canvas as HTMLCanvasElement).getContext('2d')!.getImageData(0, 0, width, height).data;
			return pixels.some((value) => value > 0);
		});
		expect(inked).toBe(true);
		await press(page, '7', 'radio');
		await one.says('Saved.');
	});

	const backup = await test.step('all of it goes into one file', async () => {
		await one.open(`${baseURL}/settings/backup/`);
		await press(page, 'Save everything to a file');
		await one.says('The file with 1 session and 1 athlete was handed to the browser.');
		return one.file();
	});
	expect(JSON.parse(backup.text)).toMatchObject({ format: 'corner-minute backup', version: 1 });

	await test.step('which a browser that knows nothing takes in, and shows the same session', async () => {
		await other.open(`${baseURL}/settings/backup/`);
		const field = (await other.page.waitForSelector('input[type="file"]')) as ElementHandle<HTMLInputElement>;
		await field.uploadFile(backup.path);
		await press(other.page, 'Restore it');
		await other.open(`${baseURL}/sessions/`);
		await other.page.locator('main li a').click();
		await other.says(/Drops \d+, \d+/);
	});

	await test.step('a folder is not to be had here, which the page says', async () => {
		await one.open(`${baseURL}/settings/folder/`);
		await one.says('It does not hand folders to pages');
	});
});

test('once its files are put by, the page opens without its server', async () => {
	const address = 'http://localhost:4389/';
	const server = spawn(process.execPath, ['src/start.js', '--no-build', '--port', '4389']);
	const browser = await OtherBrowser.start();
	try {
		await expect
			.poll(
				() =>
					fetch(address).then(
						({ ok }) => ok,
						() => false
					),
				{ timeout: patienceMs }
			)
			.toBe(true);
		await browser.open(address);
		await browser.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
		server.kill();
		await once(server, 'exit');
		await expect(fetch(address)).rejects.toThrow();
		await browser.open(address);
		await browser.says('This browser cannot reach a strap.');
	} finally {
		server.kill();
		await browser.close();
	}
});
