// `npm run bench`: packs the measurements for Node, with the page's own sources in them, and runs them.
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));
const packed = `${root}test-results/bench-run`;
process.chdir(root);
await build({
	configFile: false,
	logLevel: 'error',
	root,
	resolve: { alias: { $lib: `${root}src/lib` } },
	build: {
		ssr: 'tests/bench/main.ts',
		outDir: packed,
		emptyOutDir: true,
		rolldownOptions: { output: { entryFileNames: 'main.js' } }
	}
});
await import(pathToFileURL(`${packed}/main.js`).href);
