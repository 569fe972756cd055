import adapter from '@sveltejs/adapter-static';
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * The version of the page is what it is built from. So a build of the same sources is no new version to whoever has the
 * page open, and a second program that asks the framework to write its files anew in mid-build, as the types' check
 * does, writes the same ones: with two names of one version in it a page is dead.
 */
function version() {
	const root = fileURLToPath(new URL('.', import.meta.url));
	const filesIn = (/** @type {string} */ folder) =>
		readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
			.filter((entry) => entry.isFile())
			.map((entry) => join(entry.parentPath, entry.name));
	const alone = ['package-lock.json', 'svelte.config.js', 'vite.config.ts'].map((name) => join(root, name));
	const hash = createHash('sha256');
	for (const path of [...filesIn('src'), ...filesIn('static'), ...alone].sort())
		hash.update(path.slice(root.length)).update(readFileSync(path));
	return hash.digest('hex').slice(0, 16);
}

/** @type {import('@sveltejs/kit').Config} */
export default {
	compilerOptions: { runes: true },
	kit: {
		version: { name: version() },
		typescript: {
			// The stories are checked with the page: a program of their own would read all of its types once more.
			config: ({ include, ...config }) => ({
				...config,
				include: [...include, '../e2e/**/*.ts', '../e2e/**/*.js', '../playwright.config.ts']
			})
		},
		// The fallback is what hosts serve for an address that leads nowhere; +error.svelte speaks there.
		adapter: adapter({ fallback: '404.html', strict: true, precompress: true }),
		// Every page is a fixed, prerendered file, so the hashes of its inline start script are known at
		// build time and can stand in a meta tag; nothing else inline ever runs. What is not named is refused.
		csp: {
			mode: 'hash',
			directives: {
				'default-src': ['none'],
				'script-src': ['self'],
				// The hash is that of SvelteKit's own route announcer, which carries the one style attribute.
				'style-src': ['self', 'unsafe-hashes', 'sha256-S8qMpvofolR8Mpjy4kQvEm7m1q8clzU4dfDH0AmvZjo='],
				// A report is saved as a picture by way of a data URL; such a picture reaches nobody.
				'img-src': ['self', 'data:'],
				'font-src': ['self'],
				'connect-src': ['self'],
				'manifest-src': ['self'],
				// `self` is the service worker. `blob:` is for Tone, whose clock lives in a worker made from a blob: its
				// code is in our own bundle, and scripts from elsewhere cannot make blobs because none ever run.
				'worker-src': ['self', 'blob:'],
				'object-src': ['none'],
				'base-uri': ['none'],
				'form-action': ['none']
			}
		}
	}
};
