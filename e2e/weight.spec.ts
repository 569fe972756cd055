import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from './fixtures';
import { routes } from './routes';
import { bytesOf, firstScripts, libraryOf, scriptsOf, withImports } from './weigh';

test.use({ isPutBy: true });

const kB = 1000;

// Everybody who opens the page pays for its first screen; another one, opened alone by its address, is waited for too.
const firstLimit = 75 * kB;
const otherLimit = 140 * kB;

test('the first screen grows no heavier than it may, and does without the two libraries', async () => {
	const first = firstScripts('build');
	expect(first.length).toBeGreaterThan(3);
	expect(bytesOf(first)).toBeLessThanOrEqual(firstLimit);
	expect(first.map(libraryOf).filter(Boolean)).toEqual([]);
});

test('every other screen, opened alone, grows no heavier than it may beside the two libraries', () => {
	const pages = builtPages();
	expect(pages.length).toBeGreaterThan(routes.length);
	for (const name of pages.filter((page) => page !== 'index.html')) {
		const own = firstScripts('build', name).filter((script) => !libraryOf(script));
		expect(own.length, name).toBeGreaterThan(3);
		expect(bytesOf(own), name).toBeLessThanOrEqual(otherLimit);
	}
});

test('every built page and its scripts are of one version', () => {
	const payload = /__sveltekit_[a-z0-9]+/g;
	const namedIn = (text: string) => text.match(payload) ?? [];
	const inPages = builtPages().flatMap((name) => namedIn(readFileSync(join('build', name), 'utf8')));
	const inScripts = scriptsOf('build').flatMap(({ text }) => namedIn(text));
	expect(inPages.length).toBeGreaterThan(routes.length);
	expect(inScripts.length).toBeGreaterThan(0);
	expect(new Set([...inPages, ...inScripts])).toEqual(new Set(inPages.slice(0, 1)));
});

test('the worker is built of nothing that needs a page', () => {
	const scripts = scriptsOf('build');
	const workers = scripts.filter(({ path }) => path.includes('/workers/'));
	expect(workers).toHaveLength(1);
	const built = withImports(scripts, [workers[0]!.path]);
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

function builtPages(): string[] {
	return readdirSync('build', { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.html'));
}
