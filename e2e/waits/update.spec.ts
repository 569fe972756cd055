import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Page } from '@playwright/test';
import sirv from 'sirv';
import { Corner } from '../corner';
import { expect, test as base } from '../fixtures';
import { packet } from '../packets';
import { patienceMs } from '../patience';

/** The built page on a server of the story's own, which can be told that a new version was put there. */
const test = base.extend<{ publishNewVersion: () => void }>({
	publishNewVersion: async ({ baseURL }, use) => {
		await use(() => published.add(baseURL!));
	},
	// eslint-disable-next-line no-empty-pattern -- Playwright wants a pattern where a fixture needs no other
	baseURL: async ({}, use) => {
		const pages = sirv('build', { etag: true });
		const worker = readFileSync('build/service-worker.js', 'utf8');
		const server = createServer((request, response) => {
			response.setHeader('Cache-Control', 'no-cache');
			if (request.url !== '/service-worker.js') return pages(request, response);
			response.setHeader('Content-Type', 'text/javascript');
			// A version is known by its name in the worker.
			response.end(
				published.has(address) ? worker.replaceAll('corner-minute-', 'corner-minute-next-') : worker
			);
		});
		await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve));
		const address = `http://localhost:${(server.address() as AddressInfo).port}`;
		await use(address);
		server.closeAllConnections();
		server.close();
	}
});
const published = new Set<string>();

test.use({ isPutBy: true });

test('a new version waits while a session runs, is offered after it, and is then taken over with one press', async ({
	page,
	corner,
	publishNewVersion
}) => {
	const versions = () => page.evaluate(() => caches.keys());
	const offer = page.getByRole('button', { name: 'Take it over now' });
	await corner.open();
	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
	const [old] = await versions();
	await corner.answer('skip');
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await corner.practise();
	await corner.start();
	await page.evaluate(() => Object.assign(window, { isSamePage: true }));

	publishNewVersion();
	await page.evaluate(async () => {
		await (await navigator.serviceWorker.ready).update();
	});
	await expect
		.poll(() => page.evaluate(async () => (await navigator.serviceWorker.ready).waiting?.state))
		.toBe('installed');
	expect(await versions()).toContain(old);
	await expect(offer).toHaveCount(0);
	await test.step('not on another screen of the running session, nor in another tab', async () => {
		await page.evaluate(() => history.back());
		await expect(page.getByRole('link', { name: 'Sessions', exact: true })).toBeVisible();
		await expect(offer).toHaveCount(0);
		const second = await page.context().newPage();
		await second.goto(page.url());
		await expect(second.getByText('Another tab is recording').first()).toBeVisible();
		await expect(second.getByRole('button', { name: 'Take it over now' })).toHaveCount(0);
		await second.close();
		await page.evaluate(() => history.forward());
	});
	await corner.finish();
	expect(await page.evaluate(() => 'isSamePage' in window)).toBe(true);
	expect(await page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');

	await expect(offer).toBeVisible();
	const loading = page.waitForEvent('load');
	await offer.click();
	await loading;
	expect(await page.evaluate(() => 'isSamePage' in window)).toBe(false);
	await expect(page.getByRole('heading', { name: 'Round by round' })).toBeVisible();
	await expect(offer).toHaveCount(0);
	expect(await versions()).toEqual([old!.replace('corner-minute-', 'corner-minute-next-')]);
	expect(await corner.saved()).toHaveLength(1);
});

test('windows left open on the old version say so, and follow as soon as nothing would be lost by it', async ({
	page,
	radio,
	corner,
	publishNewVersion
}) => {
	const old = 'This window shows an old version of the page.';
	const isOldOne = (one: Page) => one.evaluate(() => 'isOldOne' in window);
	// Looks on through the reload itself, which ends whatever is asked of the old document.
	const hasReloaded = (one: Page) =>
		one.waitForFunction(() => !('isOldOne' in window), undefined, { polling: 200, timeout: patienceMs });
	const openAnother = async (path: string) => {
		const another = await page.context().newPage();
		await another.goto(path);
		await expect(another.locator('main')).toBeVisible();
		// What notes that somebody types is fetched once the page has nothing else to do.
		await another.waitForLoadState('networkidle');
		await another.evaluate(() => Object.assign(window, { isOldOne: true }));
		return another;
	};
	await corner.open();
	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
	await corner.answer('skip');
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	const idle = await openAnother('/help/methods/');
	const ringside = await openAnother('/ringside/');
	const typing = await openAnother('/athletes/details/');
	const name = typing.getByRole('textbox', { name: 'Name or alias of the new athlete' });
	await name.fill('Odalys');
	const worn = new Corner(await openAnother('/'), radio);
	const strap = await radio.addStrap({ address: '02:00:00:00:00:91', name: 'Strap 9' });
	await radio.moveTo(worn.page);
	await radio.restart();
	await worn.pair(strap);
	strap.stream(() => packet({ bpm: 120 }));
	await expect(worn.button('Start')).toBeEnabled();

	publishNewVersion();
	await page.evaluate(async () => {
		await (await navigator.serviceWorker.ready).update();
	});
	const loading = page.waitForEvent('load');
	await page.getByRole('button', { name: 'Take it over now' }).click();
	await loading;
	await test.step('what stands idle follows by itself, a screen that is looked at from afar too', async () => {
		await hasReloaded(idle);
		await hasReloaded(ringside);
		await expect(idle.getByText(old)).toHaveCount(0);
	});
	await test.step('a name that is typed and not yet added stays, until the screen is left', async () => {
		await expect(typing.getByText(old)).toBeVisible();
		await expect(typing.getByText('It reloads by itself when you leave this screen.')).toBeVisible();
		await expect(name).toHaveValue('Odalys');
		expect(await isOldOne(typing)).toBe(true);
		await typing.getByRole('link', { name: 'Sessions', exact: true }).click();
		await hasReloaded(typing);
	});
	await test.step('a strap stays on, through the session that it is worn in', async () => {
		await expect(worn.page.getByText(old)).toContainText('Reload it, then pair the strap again.');
		expect(await isOldOne(worn.page)).toBe(true);
		await worn.start();
		await expect(worn.page.getByText(old)).toContainText('after the session');
		await page.goto('/');
		await expect(page.getByText('Another tab is recording').first()).toBeVisible();
		// No packet may be under way to a document that is about to go.
		await strap.silence();
		await worn.finish();
		await hasReloaded(worn.page);
		await expect(worn.page.getByRole('heading', { name: 'Round by round' })).toBeVisible();
		expect(await worn.saved()).toHaveLength(1);
		await expect(worn.page.getByText(old)).toHaveCount(0);
	});
});

test('the page can be installed: name, start, icons that a mask may cut, nothing that the browser objects to', async ({
	page,
	baseURL
}) => {
	await page.goto('/');
	const cdp = await page.context().newCDPSession(page);
	const { errors, data } = await cdp.send('Page.getAppManifest');
	expect(errors).toEqual([]);
	const manifest = JSON.parse(data!) as {
		name: string;
		start_url: string;
		scope: string;
		display: string;
		icons: { src: string; sizes: string; type: string; purpose: string }[];
	};
	expect(manifest).toMatchObject({
		name: 'Corner Minute',
		start_url: '/',
		scope: '/',
		display: 'standalone'
	});
	for (const purpose of ['any', 'maskable'])
		expect(manifest.icons.some((icon) => icon.purpose === purpose && icon.sizes === '512x512')).toBe(true);
	for (const { src, sizes, type } of manifest.icons) {
		const answer = await page.request.get(`${baseURL}${src}`);
		expect(answer.headers()['content-type']).toBe(type);
		if (sizes === 'any') continue;
		// Width and height of a PNG: bytes 16 to 23 (PNG specification, 3rd edition, 11.2.1).
		const image = await answer.body();
		expect(`${image.readUInt32BE(16)}x${image.readUInt32BE(20)}`).toBe(sizes);
	}
	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
	const { installabilityErrors } = await cdp.send('Page.getInstallabilityErrors');
	// Windows of a story are private ones, which cannot install anything.
	expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
});
