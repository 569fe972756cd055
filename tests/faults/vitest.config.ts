import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vitest/config';

/** The long runs of `npm run faults`; `npm test` plays a short version of each. */
export default defineConfig({
	plugins: [sveltekit()],
	resolve: { conditions: ['browser'] },
	test: {
		include: ['tests/faults/all.run.ts'],
		expect: { requireAssertions: true },
		testTimeout: 3 * 3_600_000,
		// What is being played, as it comes.
		disableConsoleIntercept: true
	}
});
