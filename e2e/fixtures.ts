import { test as base } from '@playwright/test';
import type { BrowserContext } from '@playwright/test';
import { leaveAtRest } from './at-rest';
import { Corner } from './corner';
import { expect } from './patience';
import { Radio } from './radio';

/**
 * What every story stands on. Each has a browser of its own, because the emulated radio is one for a whole
 * browser, and each ends with two questions: was the console free of errors, and did every request stay here?
 */
export const test = base.extend<{ provoked: RegExp; radio: Radio; corner: Corner }>({
	// What a story breaks on purpose, as the console tells it.
	provoked: [/(?!)/, { option: true }],
	context: async ({ playwright, baseURL, provoked }, use) => {
		const browser = await playwright.chromium.launch();
		const context = await browser.newContext();
		const seen = watch(context, new URL(baseURL ?? '').origin);
		await use(context);
		const errors = seen.errors.filter((error) => !provoked.test(error));
		expect.soft(errors, 'errors on the console').toEqual([]);
		expect.soft(seen.strangers, 'requests to another origin').toEqual([]);
		await context.close();
		await browser.close();
	},
	page: async ({ page }, use) => {
		await leaveAtRest(page);
		await use(page);
	},
	radio: async ({ page }, use) => {
		const radio = await Radio.on(page);
		await use(radio);
		radio.off();
	},
	corner: async ({ page, radio }, use) => {
		await use(new Corner(page, radio));
	}
});

export { expect };

function watch(context: BrowserContext, home: string) {
	const errors: string[] = [];
	const strangers: string[] = [];
	const ask = (url: string) => {
		const { origin, protocol } = new URL(url);
		// What a page makes for itself (data:, blob:) goes nowhere.
		if (/^(https?|wss?):$/.test(protocol) && origin !== home) strangers.push(url);
	};
	context.on('console', (message) => {
		if (message.type() === 'error') errors.push(`${message.text()} (${message.location().url})`);
	});
	context.on('weberror', (webError) => errors.push(String(webError.error())));
	// Those of the service worker are among them.
	context.on('request', (request) => ask(request.url()));
	context.on('page', (page) => page.on('websocket', (socket) => ask(socket.url())));
	return { errors, strangers };
}
