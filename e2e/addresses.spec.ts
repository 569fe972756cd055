import { expect, test } from './fixtures';

const moved = [
	['measure', '/tests/'],
	['progress', '/athletes/progress/'],
	['fuel', '/athletes/weight/'],
	['methods', '/help/methods/'],
	['backup', '/settings/backup/'],
	['folder', '/settings/folder/'],
	['import', '/settings/import/']
] as const;

test('every old address leads to where its page stands now', async ({ page }) => {
	for (const [old, address] of moved) {
		await page.goto(`/${old}/`);
		await expect(page, old).toHaveURL(address);
		await expect(page.getByRole('heading', { level: 1 }), old).not.toHaveText('This page has moved');
	}
});

test('an old link to one method leads to that method', async ({ page }) => {
	await page.goto('/methods/#drop-from-rr');

	await expect(page).toHaveURL('/help/methods/#drop-from-rr');
	await expect(page.locator('#drop-from-rr')).toBeInViewport();
});

test('the way back from a page that has moved skips the old address', async ({ page }) => {
	await page.goto('/sessions/');
	await page.goto('/backup/');
	await expect(page).toHaveURL('/settings/backup/');
	await page.goBack();

	await expect(page).toHaveURL('/sessions/');
});

test.describe('an unknown address', () => {
	test.use({ isPutBy: true, provoked: /\/no\/such\/page\/|ERR_INTERNET_DISCONNECTED/ });

	test('has a page of ours, with the server and without it', async ({ page, context }) => {
		const response = await page.goto('/no/such/page/');
		expect(response?.status()).toBe(404);
		await expect(page.getByRole('heading', { name: 'There is no such page' })).toBeVisible();
		await expect(page.locator('[aria-current]')).toHaveCount(0);
		await page.getByRole('link', { name: 'Go to Train' }).click();
		await expect(page.getByRole('button', { name: 'Start', exact: true })).toBeVisible();

		await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
		await context.setOffline(true);
		await page.goto('/no/such/page/');
		await expect(page.getByRole('heading', { name: 'There is no such page' })).toBeVisible();
	});
});

test('from every screen each place is one press away, and says where the reader stands', async ({ page }) => {
	const standing = [
		['/', 'Train'],
		['/tests/', 'Train'],
		['/sessions/', 'Sessions'],
		['/review/#gone', 'Sessions'],
		['/athletes/weight/', 'Me'],
		['/settings/backup/', 'Settings'],
		['/help/methods/', 'Help']
	] as const;
	for (const [path, place] of standing) {
		await page.goto(path);
		const links = page.getByRole('navigation', { name: 'Main' }).getByRole('link');
		await expect(links).toHaveText(['Train', 'Sessions', 'Me', 'Help', 'Settings']);
		await expect(links.and(page.locator('[aria-current="page"]')), path).toHaveText(place);
	}
});

test('on a phone the places lie under the thumb, and nothing lies under them', async ({ page }) => {
	await page.setViewportSize({ width: 360, height: 740 });
	await page.goto('/settings/');
	const bar = page.getByRole('navigation', { name: 'Main' });
	await expect(bar).toBeVisible();
	const box = (await bar.boundingBox())!;
	expect(Math.round(box.y + box.height)).toBe(740);
	expect(box.width).toBe(360);
	for (const link of [bar.getByRole('link', { name: 'Train' }), bar.getByRole('button', { name: 'More' })]) {
		expect((await link.boundingBox())!.height).toBeGreaterThanOrEqual(64);
	}
	expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);

	// The very last words can be scrolled clear of the bar.
	await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
	const last = (await page.getByText('Nothing leaves this browser').boundingBox())!;
	expect(last.y + last.height).toBeLessThanOrEqual(box.y);

	await bar.getByRole('button', { name: 'More' }).click();
	await bar.getByRole('link', { name: 'Help' }).click();
	await expect(page).toHaveURL('/help/');
	await expect(bar.getByRole('link', { name: 'Settings' })).toBeHidden();
});

test('an installed page opens once, with a way to Train and to the squad', async ({ page, request }) => {
	const manifest = await (await request.get('/manifest.webmanifest')).json();
	// Web App Launch Handler API and Web Application Manifest (W3C): an open window is taken to the front.
	expect(manifest.launch_handler.client_mode).toContain('focus-existing');
	expect(manifest.shortcuts.map(({ name }: { name: string }) => name)).toEqual(['Train', 'Squad']);
	for (const { name, url } of manifest.shortcuts as { name: string; url: string }[]) {
		await page.goto(url);
		await expect(page.getByRole('heading', { level: 1 }), name).toBeAttached();
		await expect(page.getByRole('heading', { name: 'There is no such page' })).toHaveCount(0);
	}
});
