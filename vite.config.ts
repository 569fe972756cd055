import { sveltekit } from '@sveltejs/kit/vite';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
	plugins: [sveltekit()],
	// Tests run on the client build of Svelte, where runes react.
	resolve: {
		alias: {
			'standardized-audio-context': fileURLToPath(new URL('src/lib/bell/native-audio.ts', import.meta.url))
		},
		...(process.env.VITEST && { conditions: ['browser'] })
	},
	build: {
		rolldownOptions: {
			output: {
				// What every screen needs and what the first one is made of, the layout and the corner with all that
				// they import, comes in one piece: packed together it is a twelfth smaller than as thirty.
				codeSplitting: { groups: [{ name: 'ground', test: /src\/routes\/\+(layout|page)\.svelte$/ }] }
			}
		}
	},
	test: {
		include: ['tests/**/*.test.ts'],
		expect: { requireAssertions: true },
		reporters: ['default', 'json'],
		outputFile: { json: 'test-results/unit.json' }
	}
});
