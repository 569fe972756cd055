import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** The long runs of `npm run faults`; `npm test` plays a short version of each. */
export default defineConfig({
	plugins: [svelte()],
	resolve: {
		alias: { $lib: fileURLToPath(new URL('../../src/lib', import.meta.url)) },
		conditions: ['browser']
	},
	test: {
		include: ['tests/faults/all.run.ts'],
		expect: { requireAssertions: true },
		testTimeout: 3 * 3_600_000,
		// What is being played, as it comes.
		disableConsoleIntercept: true
	}
});
