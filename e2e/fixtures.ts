import { test as base } from '@playwright/test';
import type { Browser, BrowserContext } from '@playwright/test';
import { leaveAtRest } from './at-rest';
import { Corner } from './corner';
import { expect } from './patience';
import { Radio } from './radio';
import { Squad } from './squad';

/**
 * What every story stands on. Each has a profile of its own in the one browser of its worker (to start another costs
 * a second of processor time), and ends with two questions: was the console free of errors, and did every request stay
 * here?
 */
export const test = base.extend<
	{
		provoked: RegExp;
		isPutBy: boolean;
		environment: Record<string, string> | undefined;
		radio: Radio;
		corner: Corner;
		squad: Squad;
	},
	{ shared: () => Promise<Browser> }
>({
	/** One story at a time is told in it, as its emulated radio asks; where it has ended, the next has a new one. */
	shared: [
		async ({ playwright }, use) => {
			let browser = await playwright.chromium.launch();
			await use(async () =>
				browser.isConnected() ? browser : (browser = await playwright.chromium.launch())
			);
			await browser.close();
		},
		{ scope: 'worker' }
	],
	// What a story breaks on purpose, as the console tells it.
	provoked: [/(?!)/, { option: true }],
	// Whether the page puts all its files by, for use without the server. To do so takes a fresh browser longer than to
	// open the page, so only the stories of that do it, and those of the main job.
	isPutBy: [false, { option: true }],
	// What the browser finds in its environment, where that is not the story's own.
	environment: [undefined, { option: true }],
	context: async ({ playwright, baseURL, provoked, isPutBy, environment, shared }, use) => {
		const browser = environment ? await playwright.chromium.launch({ env: environment }) : await shared();
		const context = await browser.newContext({ serviceWorkers: isPutBy ? 'allow' : 'block' });
		const seen = watch(context, new URL(baseURL ?? '').origin);
		await use(context);
		const errors = seen.errors.filter((error) => !provoked.test(error));
		expect.soft(errors, 'errors on the console').toEqual([]);
		expect.soft(seen.strangers, 'requests to another origin').toEqual([]);
		// Now and then Chromium has ended by itself when its profile is taken down, why is not known. The story is told by then.
		await context.close().catch((problem: unknown) => {
			if (browser.isConnected()) throw problem;
		});
		if (environment) await browser.close();
	},
	page: async ({ page }, use) => {
		await leaveAtRest(page);
		await use(page);
	},
	radio: async ({ page }, use) => {
		const radio = await Radio.on(page);
		await use(radio);
		radio.off();
		await radio.leave();
	},
	corner: async ({ page, radio }, use) => {
		await use(new Corner(page, radio));
	},
	squad: async ({ corner, radio }, use) => {
		await use(new Squad(corner, radio));
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
