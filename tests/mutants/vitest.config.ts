import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { keptWorker } from './kept-worker';

const { MUTANTS_ROOM: room, MUTANTS_AFRESH: isAfresh, MUTANTS_WITHOUT: without = '' } = process.env;

/** The unit tests of one room, as `npm run mutants` runs them some thousand times. */
export default defineConfig({
	plugins: [
		{
			name: 'processes-of-mutants',
			// Not threads, which is what the runner asks for: some tests set the time zone of their process.
			configureVitest({ project }) {
				Object.assign(
					project.config,
					isAfresh ? { pool: 'forks' } : { pool: 'kept', poolRunner: keptWorker() }
				);
			}
		}
	],
	// The rooms run without Svelte, so the one thing needed of its plugin is the short name of src/lib.
	resolve: { alias: { $lib: fileURLToPath(new URL('../../src/lib', import.meta.url)) } },
	test: {
		include: [`tests/${room}/**/*.test.ts`],
		// It asks a program that the machine may lack, and takes seconds: no score hangs on it.
		exclude: ['tests/gatt/measurement-dissector.test.ts', ...without.split(',')],
		setupFiles: ['tests/mutants/same-cases.ts'],
		expect: { requireAssertions: true },
		isolate: false,
		// A strap's test that waits for what a mutant never says ends with this; all others only compute.
		testTimeout: room === 'gatt' ? 5000 : 600_000
	}
});
