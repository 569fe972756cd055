import adapter from '@sveltejs/adapter-static';

/** @type {import('@sveltejs/kit').Config} */
export default {
	compilerOptions: { runes: true },
	kit: {
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
