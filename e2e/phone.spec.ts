import type { Locator } from '@playwright/test';
import { expect, test } from './fixtures';

// Measured against this and not against innerWidth, which grows with what is too wide on a phone.
const widthPx = 360;

test.use({ viewport: { width: widthPx, height: 740 }, hasTouch: true, isMobile: true });

test('a threshold run from start to result on a phone, by touch', async ({ page, corner }) => {
	/** Nothing reaches beyond the right edge, and each control can be touched without moving the page sideways. */
	const looksRight = async (where: string) => {
		await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth), where).toBe(widthPx);
		const outside = await page.evaluate(
			(widthPx) =>
				// The link that skips to the content comes into view with the keyboard's focus.
				[...document.querySelectorAll('button, a:not([href="#main"]), input, select, textarea, summary')]
					.filter((one) => one.checkVisibility())
					.filter((one) => {
						const { left, right, width } = one.getBoundingClientRect();
						// What scrolls in a region of its own is reached there.
						return width > 1 && !one.closest('[role=region], svg') && (left < 0 || right > widthPx);
					})
					.map((one) => one.textContent?.trim() ?? one.tagName),
			widthPx
		);
		expect(outside, `${where}: controls out of reach`).toEqual([]);
	};
	const touch = async (control: Locator) => {
		await control.scrollIntoViewIfNeeded();
		await control.tap();
	};

	await page.goto('/tests/');
	await expect(corner.button('Use simulated strap')).toBeVisible();
	await looksRight('measure');
	await page.getByRole('spinbutton', { name: 'Warm-up, minutes' }).fill('1');
	await page.getByRole('combobox', { name: 'Simulation speed' }).selectOption('60 times as fast');
	await touch(corner.button('Use simulated strap'));
	await touch(page.getByRole('checkbox', { name: /Read and understood/ }));
	await expect(corner.button('Start')).toBeEnabled();
	await looksRight('measure, ready');
	await touch(corner.button('Start'));

	await expect(corner.clock).toContainText('The 20 minutes');
	await looksRight('the run');
	for (const figure of [corner.timeLeft, corner.heartRate, page.getByRole('group', { name: 'Mean so far' })])
		await expect(figure).toBeVisible();
	await expect(page.getByText(/^Raised (once|\d times)/)).toBeVisible();
	await touch(corner.button('Pause'));
	await expect(corner.button('Resume')).toBeVisible();
	await looksRight('the run, paused');
	await touch(corner.button('Resume'));

	await corner.inReview();
	const result = page.getByRole('region', { name: 'Result' });
	await touch(result.getByRole('button', { name: 'Yes, some minutes more' }));
	await touch(page.getByRole('radio', { name: '7', exact: true }));
	await touch(result.getByRole('button', { name: /^Use .* the mean less 5 %$/ }));
	await expect(result).toContainText('In use');
	// The pause is a reason for doubt, and is said.
	await expect(result).toContainText('The run was interrupted.');
	await page.getByText('Sex, year of birth and weight give the energy', { exact: true }).tap();
	await looksRight('the result');
	await page.goto('/athletes/progress/');
	await expect(page.getByText('Nothing to compare yet.')).toBeVisible();
	await looksRight('progress');
	await page.goto('/athletes/details/');
	await expect(page.getByRole('heading', { name: 'Add an athlete' })).toBeVisible();
	await looksRight('athlete');
});
