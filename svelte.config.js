import adapter from '@sveltejs/adapter-static';

/** @type {import('@sveltejs/kit').Config} */
export default {
	compilerOptions: { runes: true },
	kit: {
		adapter: adapter({ fallback: undefined, strict: true }),
		// Every page is a fixed, prerendered file, so the hashes of its inline start script are known at
		// build time and can stand in a meta tag; nothing else inline ever runs. `worker-src blob:` is for
		// Tone, whose clock lives in a worker made from a blob.
		csp: {
			mode: 'hash',
			directives: {
				'default-src': ['self'],
				'script-src': ['self'],
				'style-src': ['self'],
				'img-src': ['self', 'data:', 'blob:'],
				'font-src': ['self'],
				'connect-src': ['self'],
				'worker-src': ['self', 'blob:'],
				'object-src': ['none'],
				'base-uri': ['none'],
				'form-action': ['none']
			}
		}
	}
};
