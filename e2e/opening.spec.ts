import { expect, test } from './fixtures';

test('the page opens under its own name and may use Bluetooth, and nobody may frame it', async ({ page }) => {
	const response = await page.goto('/');

	await expect(page).toHaveTitle(/Corner Minute/);
	const headers = response?.headers() ?? {};
	expect(headers['content-security-policy']).toBe("frame-ancestors 'none'");
	expect(headers['permissions-policy']).toContain('bluetooth=(self)');
	expect(headers['permissions-policy']).toContain('geolocation=()');
	expect(await page.evaluate(() => navigator.bluetooth.getAvailability())).toBeDefined();
});

test('once opened, the page opens again with no network at all', async ({ page, context }) => {
	await page.goto('/');
	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');

	await context.setOffline(true);
	await page.reload();

	await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
	await page.getByRole('link', { name: 'Methods', exact: true }).click();
	await expect(page.getByRole('heading', { name: 'Drop at 60 seconds' })).toBeVisible();
	await page.reload();
	await expect(page.getByRole('heading', { name: 'Drop at 60 seconds' })).toBeVisible();
});
