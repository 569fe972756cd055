import { expect, test } from './fixtures';

test.use({ isPutBy: true });

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
	await page.getByRole('link', { name: 'Help', exact: true }).click();
	await page.getByRole('link', { name: 'Methods and sources', exact: true }).first().click();
	await expect(page.getByRole('heading', { name: '1-minute drop', exact: true })).toBeVisible();
	await page.reload();
	await expect(page.getByRole('heading', { name: '1-minute drop', exact: true })).toBeVisible();

	// What each measure was checked against stands beside it, and all of it in one table.
	const peak = page.getByRole('region', { name: 'Peak', exact: true });
	await expect(peak).toContainText('not checked against anything outside');
	await page.getByText('All that was checked against something outside').click();
	const row = page.getByRole('row').filter({ hasText: 'dissector' });
	await expect(row).toContainText('From packets to seconds');
});

test('the built page holds the first screen of a first visit, and hides it from whoever was here before', async ({
	page,
	context
}) => {
	/** The page before its own scripts have come. */
	async function bare() {
		const one = await context.newPage();
		await one.route('**/_app/**/*.js', () => {});
		await one.goto('/', { waitUntil: 'domcontentloaded' });
		return one;
	}
	const first = await bare();
	await expect(first.getByText('Any chest strap')).toBeVisible();
	await expect(first.getByText('What is your threshold heart rate?')).toBeVisible();
	await first.close();

	await page.goto('/');
	await page.getByRole('button', { name: 'Skip' }).click();
	await expect(page.getByRole('button', { name: 'Skip' })).toHaveCount(0);
	await page.goto('/settings/');
	await page.getByText('Light', { exact: true }).click();
	await expect(page.locator('html')).toHaveAttribute('data-theme', 'light');
	await page.evaluate(async () => (await navigator.serviceWorker.ready).unregister());
	const again = await bare();
	await expect(again.locator('html')).toHaveAttribute('data-theme', 'light');
	await expect(again.getByRole('link', { name: 'Tests' })).toBeVisible();
	await expect(again.getByText('Any chest strap')).toBeHidden();
});
