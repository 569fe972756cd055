import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { build } from 'vite';
import { floorAddress } from './floor';
import type * as folder from './folder';
import { withContext } from './page';

const packed = 'test-results/folder-in-page';

/** `measureYears` in a Chromium with its own database on disk. The folder itself lies in memory there, too. */
export async function yearsInBrowser(aYear: number): Promise<folder.YearsFigures> {
	await build({
		configFile: false,
		logLevel: 'error',
		resolve: { alias: { $lib: resolve('src/lib') } },
		build: {
			lib: { entry: 'tests/bench/folder.ts', formats: ['iife'], name: 'folder', fileName: () => 'folder.js' },
			outDir: packed,
			minify: false
		}
	});
	const content = await readFile(`${packed}/folder.js`, 'utf8');
	return withContext(async (context) => {
		const page = await context.newPage();
		await page.goto(await floorAddress());
		await page.addScriptTag({ content });
		return page.evaluate(
			(aYear) => (window as unknown as { folder: typeof folder }).folder.measureYears(aYear),
			aYear
		);
	});
}
