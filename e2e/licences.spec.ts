import { readFileSync } from 'node:fs';
import { expect, test } from './fixtures';

test.use({ isPutBy: true });

/** The text that each part asks to be handed on with every copy, in its author's own words. */
const asked = {
	'the page': 'Copyright (c) 2026 Corner Minute contributors',
	'the typeface': 'SIL OPEN FONT LICENSE Version 1.1',
	...Object.fromEntries(
		['svelte', '@sveltejs/kit', 'chart.js', 'tone', 'valibot', 'idb-keyval', 'html-to-image'].map((name) => [
			name,
			licenceOf(name)
		])
	)
};

function licenceOf(name: string): string {
	for (const file of ['LICENSE', 'LICENSE.md', 'LICENCE']) {
		try {
			return readFileSync(`node_modules/${name}/${file}`, 'utf8').trim();
		} catch {
			// Under another of the names.
		}
	}
	throw new Error(`${name} brings no licence.`);
}

test('whoever has the page has the licences of all that it is built from, offline too', async ({
	page,
	context
}) => {
	// A text names no icon, so the browser asks for the usual one by itself.
	await page.route('/favicon.ico', (route) => route.fulfill({ status: 204 }));
	await page.goto('/help/');
	await page.getByRole('link', { name: 'Licences' }).click();
	await expect(page).toHaveURL('/licences.txt');
	const text = await page.locator('pre').innerText();
	for (const [part, words] of Object.entries(asked)) expect(text, part).toContain(words);

	await page.goBack();
	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
	await context.setOffline(true);
	expect(await page.evaluate(async () => (await fetch('/licences.txt')).text())).toContain(asked['the page']);
});
