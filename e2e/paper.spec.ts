import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';
import { follow } from './follow';
import { routes } from './routes';

/** Pages of the paper it prints on, as the file says (ISO 32000-1, 7.7.3: each page is an object of type Page). */
async function printedPages(page: Page): Promise<number> {
	const file = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
	return [...file.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;
}

/** Width and height in the head of a PNG file (W3C PNG, 11.2.1). */
async function pngSize(path: string): Promise<{ widthPx: number; heightPx: number }> {
	const file = await readFile(path);
	expect(file.subarray(1, 4).toString()).toBe('PNG');
	return { widthPx: file.readUInt32BE(16), heightPx: file.readUInt32BE(20) };
}

test('a session goes out on one page, as a picture of it from a phone, and as a text', async ({
	page,
	corner
}) => {
	await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
	await corner.begin(
		{ threshold: 150 },
		{ Rounds: 12, 'Round, seconds': 15, 'Rest, seconds': 60, 'Get ready, seconds': 0 },
		'60 times as fast'
	);
	await corner.inReview();
	await page.getByRole('link', { name: 'Print or send' }).click();
	await expect(page.getByRole('article').getByRole('row')).toHaveCount(13);
	// The whole session, and its rests laid over each other.
	await expect(page.getByRole('article').locator('canvas')).toHaveCount(2);
	const told = page.getByRole('article').getByRole('heading', { level: 2 });
	await expect(told).toHaveText([
		'What it cannot say',
		'What was done',
		'Against your own usual',
		'Restrictions',
		'Next step'
	]);
	expect(await printedPages(page)).toBe(1);

	await page.setViewportSize({ width: 360, height: 740 });
	const [saved] = await Promise.all([
		page.waitForEvent('download'),
		page.getByRole('button', { name: 'Save as PNG' }).click()
	]);
	const { widthPx, heightPx } = await pngSize(await saved.path());
	// A4 is 210 mm by 297 mm, 794 by 1123 pixels of CSS; twice as fine.
	expect(widthPx).toBeGreaterThan(1560);
	expect(heightPx).toBeGreaterThanOrEqual(2240);
	expect(heightPx).toBeLessThan(2400);

	// The page may write to the clipboard and never read from it, so what it writes is listened to.
	await page.evaluate(() => {
		const { clipboard } = navigator;
		const write = clipboard.writeText.bind(clipboard);
		clipboard.writeText = (text) => {
			document.documentElement.dataset.copied = text;
			return write(text);
		};
	});
	await page.getByRole('button', { name: 'Copy as text' }).click();
	await expect(page.getByRole('status')).toContainText('copied');
	const text = await page.evaluate(() => document.documentElement.dataset.copied);
	expect(text).toContain('Simulated: it stays out of progress.');
	expect(text).toMatch(/your heart rate fell by ((\d+|none \(rose \d+\))(, | beats)){12}/);
	await page.getByRole('combobox', { name: 'Written for' }).selectOption('a doctor');
	await expect(page.getByRole('article')).toContainText('There is no ECG');
});

test('the progress of an athlete goes out on one page, and every screen fits a phone of 360 px', async ({
	page,
	corner
}) => {
	await corner.open();
	await page.goto('/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByRole('button', { name: 'Remove the example gym' })).toBeVisible({
		timeout: 120_000
	});
	await page.goto('/athletes/progress/');
	const who = page.getByRole('combobox', { name: 'Athlete', exact: true });
	await who.selectOption(await who.locator('option', { hasText: 'Ilka' }).first().textContent());
	await page.getByRole('link', { name: 'Print or send it' }).click();
	await expect(page.getByRole('article').getByRole('heading', { name: /^Weight/ })).toBeVisible();
	expect(await printedPages(page)).toBe(1);

	await page.setViewportSize({ width: 360, height: 740 });
	const sideways = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
	await expect.poll(sideways, 'report').toBe(0);
	for (const route of ['', ...routes]) {
		await follow(page, `/${route}/`.replace('//', '/'));
		await expect(page.getByRole('main')).not.toContainText(/One moment|Opening/);
		await expect.poll(sideways, route).toBe(0);
	}
	await page.goto('/sessions/');
	await page.getByRole('link', { name: /Pads/ }).first().click();
	await expect(page.getByRole('heading', { name: 'Round by round' })).toBeVisible();
	await expect.poll(sideways, 'review').toBe(0);
});

test('on a phone every control of the running session lies where the thumb of one hand is', async ({
	page,
	corner
}) => {
	await page.setViewportSize({ width: 360, height: 740 });
	await corner.begin({ threshold: 170 }, { Rounds: 3, 'Get ready, seconds': 0 });
	// Before the first beat an alert stands above what is read and asks for its room.
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	for (const phase of ['Round 1 of 3', 'Rest after round 1']) {
		await expect(corner.clock).toContainText(phase);
		for (const reading of [corner.timeLeft, corner.heartRate, corner.restDrop])
			await expect(reading, phase).toBeInViewport({ ratio: 1 });
		// The controls stick to the bottom and must not lie over what is read.
		const drop = (await corner.restDrop.boundingBox())!;
		expect(drop.y + drop.height, phase).toBeLessThanOrEqual((await corner.button('Pause').boundingBox())!.y);
		for (const name of ['Pause', 'Next', 'Finish hold'] as const) {
			const box = (await corner.button(name).boundingBox())!;
			expect(box.y, `${phase}: ${name}`).toBeGreaterThan(740 * 0.75);
			expect(box.y + box.height, `${phase}: ${name}`).toBeLessThanOrEqual(740);
		}
		await corner.button('Next').click();
	}
	await page.getByRole('button', { name: 'More' }).click();
	for (const name of [
		'Stop round',
		'Repeat round',
		'One more round',
		'Rest +30 s',
		'Boxers',
		'Full screen'
	]) {
		const box = (await page.getByRole('button', { name, exact: true }).boundingBox())!;
		expect(box.y, name).toBeGreaterThan(740 * 0.4);
		expect(box.y + box.height, name).toBeLessThanOrEqual(740);
	}
});
