import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from './fixtures';

const pages = readdirSync('build', { recursive: true, encoding: 'utf8' }).filter((name) =>
	name.endsWith('.html')
);
const routes = readdirSync('src/routes', { recursive: true, encoding: 'utf8' }).filter((name) =>
	name.endsWith('+page.svelte')
);

const sha256 = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

function policyOf(html: string): Map<string, string[]> {
	const [, policy = ''] = /<meta http-equiv="content-security-policy" content="([^"]*)">/.exec(html) ?? [];
	return new Map(
		policy.split('; ').map((directive) => {
			const [name = '', ...sources] = directive.split(' ');
			return [name, sources];
		})
	);
}

test('every built page carries the whole policy, and nothing inline that it does not name', () => {
	// One route stands for the seven old addresses, and the page of an address that leads nowhere has none.
	expect(pages).toHaveLength(routes.length - 1 + 7 + 1);
	for (const name of pages) {
		const html = readFileSync(join('build', name), 'utf8');
		const scripts = Array.from(html.matchAll(/<script([^>]*)>([\s\S]*?)<\/script>/g));
		// What is marked as JSON is data to the browser and never runs.
		const inline = scripts
			.filter(([, attributes]) => !/\s(src=|type="application\/json")/.test(attributes!))
			.map(([, , text]) => text!);
		const policy = policyOf(html);
		expect(Object.fromEntries(policy), name).toEqual({
			'default-src': ["'none'"],
			'script-src': ["'self'", ...inline.map(sha256)],
			// The hash of the one style attribute of the framework's route announcer.
			'style-src': ["'self'", "'unsafe-hashes'", expect.stringMatching(/^'sha256-/)],
			'img-src': ["'self'", 'data:'],
			'font-src': ["'self'"],
			'connect-src': ["'self'"],
			'manifest-src': ["'self'"],
			'worker-src': ["'self'", 'blob:'],
			'object-src': ["'none'"],
			'base-uri': ["'none'"],
			'form-action': ["'none'"]
		});
		expect(inline.length, name).toBeGreaterThan(0);
		// A policy in a meta tag binds only what comes after it.
		expect(html.indexOf('content-security-policy'), name).toBeLessThan(html.search(/<(script|style|img)\b/));
		const body = html.replaceAll(/<script[\s\S]*?<\/script>/g, '');
		expect(body, name).not.toMatch(/<style\b/);
		expect(body, name).not.toMatch(/<[a-z][^>]*\s(on[a-z]+|style)=/);
		expect(body, name).not.toMatch(/\b(src|href)="(https?:)?\/\//);
	}
});

test('every answer of the server carries the headers, a refused one too', async ({ request }) => {
	const names = readdirSync('build/_app/immutable/entry').slice(0, 1);
	const paths = [
		'/',
		'/review/',
		'/service-worker.js',
		'/manifest.webmanifest',
		'/icon.svg',
		'/backup.schema.json'
	];
	for (const path of [...paths, `/_app/immutable/entry/${names[0]}`, '/nowhere', '/../package.json']) {
		const headers = (await request.get(path)).headers();
		expect(headers, path).toMatchObject({
			'content-security-policy': "frame-ancestors 'none'",
			'x-content-type-options': 'nosniff',
			'referrer-policy': 'no-referrer',
			'cross-origin-opener-policy': 'same-origin',
			'cross-origin-resource-policy': 'same-origin'
		});
		expect(headers['permissions-policy'], path).toContain(
			'bluetooth=(self), fullscreen=(self), screen-wake-lock=(self)'
		);
	}
	expect((await request.get('/nowhere')).status()).toBe(404);
});

test('the page is allowed what it uses and nothing else that reaches people, devices or the network', async ({
	page
}) => {
	await page.goto('/');
	const allowed = await page.evaluate(() =>
		(
			document as unknown as { featurePolicy: { allowedFeatures(): string[] } }
		).featurePolicy.allowedFeatures()
	);
	expect(allowed).toEqual(expect.arrayContaining(['bluetooth', 'fullscreen', 'screen-wake-lock']));
	// From the registry of policy-controlled features (W3C, Permissions Policy), as far as this browser knows them.
	const others =
		/^(accelerometer|camera|clipboard-read|compute-pressure|display-capture|gamepad|geolocation|gyroscope|hid|identity-credentials-get|idle-detection|local-fonts|local-network-access|magnetometer|microphone|midi|otp-credentials|payment|publickey-credentials-.*|serial|storage-access|sync-xhr|usb|xr-spatial-tracking|browsing-topics)$/;
	expect(allowed.filter((feature) => others.test(feature))).toEqual([]);
});

const markup = '<img src=x onerror="window.wasRun=true"><script>window.wasRun=true</script>';

test('what comes in from a file is shown as text, wherever it is shown', async ({ page }) => {
	const backup = JSON.parse(readFileSync('tests/fixtures/backup-1.json', 'utf8')) as unknown;
	// Every text that a person can type, in whatever entry it stands.
	const typed = new Set(['name', 'note', 'notes', 'title', 'partner', 'planName', 'strapName', 'reason']);
	const planted = JSON.stringify(backup, (key, value: unknown) =>
		typed.has(key) && typeof value === 'string' ? `${markup}${value}` : value
	);
	expect(planted.split('wasRun').length).toBeGreaterThan(10);
	/** Whether any of it ran, and whether any of it became an element. */
	const runs = () =>
		page.evaluate(() => ['wasRun' in window, document.querySelector('img[src="x"]') !== null]);
	await page.goto('/settings/backup/');
	// Before the page is alive nobody listens to the field.
	await expect(page.getByRole('button', { name: 'Save everything to a file' })).toBeEnabled();
	await page.getByLabel('Backup file').setInputFiles({
		name: `${markup.replaceAll('/', '')}.json`,
		mimeType: 'application/json',
		buffer: Buffer.from(planted)
	});
	await expect(page.getByRole('button', { name: 'Restore it' })).toBeVisible();
	await page.getByText('Added:', { exact: false }).first().click();
	await expect(page.getByText('<img src=x').first()).toBeVisible();
	expect(await runs()).toEqual([false, false]);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await page.getByRole('link', { name: 'See the sessions' }).click();
	await expect(page.getByText('<img src=x').first()).toBeVisible();
	expect(await runs()).toEqual([false, false]);
	await page.getByRole('main').getByRole('listitem').first().getByRole('link').click();
	await expect(page.getByText('<img src=x').first()).toBeVisible();
	expect(await runs()).toEqual([false, false]);
	for (const path of [
		'/',
		'/athletes/',
		'/athletes/details/',
		'/settings/',
		'/help/',
		'/squad/',
		'/athletes/progress/',
		'/athletes/weight/',
		'/tests/'
	]) {
		await page.goto(path);
		await expect(page.getByRole('heading').first()).toBeAttached();
		expect([path, ...(await runs())]).toEqual([path, false, false]);
	}

	await page.goto('/settings/import/', { waitUntil: 'networkidle' });
	const rows = Array.from({ length: 60 }, (_, s) => `0:00:${String(s).padStart(2, '0')},${120 + (s % 5)}`);
	await page.getByLabel('CSV file').setInputFiles({
		name: 'run<img src=x onerror=window.wasRun=true>.csv',
		mimeType: 'text/csv',
		buffer: Buffer.from(
			[`time <img src=x onerror=window.wasRun=true>,heart rate <img src=x>`, ...rows].join('\n')
		)
	});
	await expect(page.getByText('<img src=x').first()).toBeVisible();
	expect(await runs()).toEqual([false, false]);
});
