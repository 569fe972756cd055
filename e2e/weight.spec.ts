import { expect, test } from './fixtures';
import { bytesOf, firstScripts, libraryOf, scriptsOf, withImports } from './weigh';

const kB = 1000;

// Everybody who opens the page pays for its first screen.
const firstLimit = 75 * kB;

test('the first screen grows no heavier than it may, and does without the two libraries', async () => {
	const first = firstScripts('build');
	expect(first.length).toBeGreaterThan(3);
	expect(bytesOf(first)).toBeLessThanOrEqual(firstLimit);
	expect(first.map(libraryOf).filter(Boolean)).toEqual([]);
});

test('the worker is built of nothing that needs a page', () => {
	const scripts = scriptsOf('build');
	const workers = scripts.filter(({ text }) => text.includes('WorkerGlobalScope'));
	expect(workers).toHaveLength(1);
	const built = withImports(scripts, [workers[0]!.path]);
	expect(built.length).toBeGreaterThan(2);
	expect(built.filter(({ text }) => /\b(window|document)\./.test(text)).map(({ path }) => path)).toEqual([]);
});

test('what a session and a picture need later lies in the cache before they need it', async ({ page }) => {
	const asked: string[] = [];
	page.on('request', (request) => {
		if (request.resourceType() === 'script') asked.push(new URL(request.url()).pathname);
	});
	await page.goto('/');
	await expect(page.getByRole('button', { name: 'Start', exact: true })).toBeVisible();
	const libraries = scriptsOf('build').filter((script) => libraryOf(script));
	expect(libraries.map(libraryOf).sort()).toEqual(['Chart.js', 'Tone']);
	expect(asked.filter((path) => libraries.some((library) => library.path === path))).toEqual([]);

	await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe('activated');
	const cached = await page.evaluate(
		async (paths) => {
			const found = await Promise.all(paths.map((path) => caches.match(path)));
			return found.map((response) => response?.status);
		},
		scriptsOf('build').map(({ path }) => path)
	);
	expect(cached.filter((status) => status !== 200)).toEqual([]);
});
