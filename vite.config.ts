import { sveltekit } from '@sveltejs/kit/vite';
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

export default defineConfig({
	plugins: [sveltekit(), licences()],
	// Tests run on the client build of Svelte, where runes react.
	resolve: {
		alias: {
			'standardized-audio-context': fileURLToPath(new URL('src/lib/bell/native-audio.ts', import.meta.url))
		},
		...(process.env.VITEST && { conditions: ['browser'] })
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
