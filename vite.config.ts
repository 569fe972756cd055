import { sveltekit } from '@sveltejs/kit/vite';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// Packed in few pieces the script is a tenth smaller than in a hundred. Each piece is what these modules are made of, as
// far as no piece above it has it; Tone and Chart.js, which are imported when they are wanted, stay by themselves.
const pieces = [
	// These and the measures know of no page: the worker is built of them, so whatever both it and the first screen
	// import is named here.
	{
		name: 'kept',
		test: /src\/lib\/(session\/(record-schema|athlete)|store\/database|rounds\/(course|rest-by-heart))\.ts$/,
		priority: 6
	},
	{ name: 'first-screen', test: /src\/routes\/\+(layout|page)\.svelte$/, priority: 5 },
	{ name: 'measures', test: /src\/lib\/(session\/(summary|put-right)|store\/sessions)\.ts$/, priority: 4 },
	{ name: 'session', test: /src\/(routes\/(live|ringside)\/|lib\/session\/running-session)/, priority: 3 },
	{ name: 'history', test: /src\/routes\/(review|report|progress|sessions)\//, priority: 2 },
	{ name: 'athlete', test: /src\/routes\/(athletes|fuel|measure|import|backup|folder)\//, priority: 1 },
	{ name: 'shared-folder', test: /src\/lib\/store\/folder-(sync|withdraw)\.ts$/, priority: 0 }
];

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
				codeSplitting: { groups: pieces }
			}
		}
	},
	test: {
		include: ['tests/**/*.test.ts'],
		// Patience is for the machine, which may have other work; what a test asserts does not hang on it.
		testTimeout: 120_000,
		expect: { requireAssertions: true },
		reporters: ['default', 'json'],
		outputFile: { json: 'test-results/unit.json' }
	}
});
