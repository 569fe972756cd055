import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vitest/config';

export default defineConfig({
	plugins: [sveltekit()],
	// Tests run on the client build of Svelte, where runes react.
	resolve: process.env.VITEST ? { conditions: ['browser'] } : undefined,
	test: {
		include: ['tests/**/*.test.ts'],
		expect: { requireAssertions: true },
		reporters: ['default', 'json'],
		outputFile: { json: 'test-results/unit.json' }
	}
});
