import { sveltekit } from '@sveltejs/kit/vite';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/** Writes `licences.txt` beside the page: our own licence, then that of every package a part of which is built in. */
function licences(): Plugin {
	return {
		name: 'licences',
		applyToEnvironment: ({ name }) => name === 'client',
		generateBundle(_, bundle) {
			const parts = Object.values(bundle).flatMap((file) =>
				file.type === 'chunk' ? Object.keys(file.modules) : file.originalFileNames
			);
			const packages = new Set(parts.flatMap((path) => packageOf(path) ?? []));
			const texts = [...packages].sort().map((name) => {
				const folder = fileURLToPath(new URL(`node_modules/${name}`, import.meta.url));
				const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry));
				if (!file) throw new Error(`${name} is built in and brings no licence.`);
				return titled(name, readFileSync(join(folder, file), 'utf8'));
			});
			const own = titled('Corner Minute', readFileSync(new URL('LICENSE', import.meta.url), 'utf8'));
			this.emitFile({ type: 'asset', fileName: 'licences.txt', source: [own, ...texts].join('\n') });
		}
	};
}

const packageOf = (path: string) => /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1];
const titled = (name: string, text: string) => `${name}\n${'='.repeat(name.length)}\n\n${text.trim()}\n`;

interface Graph {
	getModuleInfo(id: string): { importers: readonly string[] } | null;
}

/** The router, and the frame round every screen. */
const everyPage = /\/(?:kit\/src\/runtime\/client\/entry|client-optimized\/(?:app|nodes\/0))\.js$/;
const firstScreen = /\/src\/routes\/\+page\.svelte$/;
const aScreen = /\/src\/routes\/.+\/\+(?:page|layout)\.svelte$/;
const styles = /\.css(?:\?|$)/;
/** Of the thirty that there are. Fewer would make every screen load what is of no use to it. */
const manyScreens = 6;

/**
 * The file that a module goes into. Left to itself the bundler makes one of each set of modules that some pages need
 * together, some fifty for the first screen alone; each is asked for over the network, and small ones pack badly.
 */
function fileOf(id: string, graph: Graph): string | null {
	const wantedBy = new Set([id]);
	for (const one of wantedBy)
		for (const importer of graph.getModuleInfo(one)?.importers ?? []) wantedBy.add(importer);
	const wanted = [...wantedBy];
	if (wanted.some((one) => everyPage.test(one))) return 'frame';
	if (wanted.some((one) => firstScreen.test(one))) return 'first-screen';
	// All the others' styles in one file are 13 kB; a screen's in as many as it has parts were fourteen journeys.
	if (styles.test(id)) return 'styles';
	return wanted.filter((one) => aScreen.test(one)).length >= manyScreens ? 'screens' : null;
}

export default defineConfig(({ mode }) => {
	// Not by the environment, which a build that a test starts inherits.
	const isTest = mode === 'test';
	const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));
	return {
		// The framework writes into the folder that a build reads, so tests beside a build must do without it; all they need
		// of it is the short name of src/lib. They run on the client build of Svelte, where runes react.
		plugins: isTest ? [svelte()] : [sveltekit(), licences()],
		resolve: {
			alias: {
				'standardized-audio-context': at('src/lib/bell/native-audio.ts'),
				...(isTest && { $lib: at('src/lib') })
			},
			...(isTest && { conditions: ['browser'] })
		},
		build: { rolldownOptions: { output: { codeSplitting: { groups: [{ name: fileOf }] } } } },
		test: {
			include: ['tests/**/*.test.ts'],
			// To start a process for each file takes as long as all their tests.
			isolate: false,
			setupFiles: ['tests/afresh.ts'],
			// Left to itself it leaves one core alone, which is half of a small machine.
			maxWorkers: '100%',
			// Patience is for the machine, which may have other work; what a test asserts does not hang on it.
			testTimeout: 120_000,
			expect: { requireAssertions: true },
			reporters: ['default', 'json'],
			outputFile: { json: 'test-results/unit.json' }
		}
	};
});
