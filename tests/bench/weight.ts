import { bytesOf, firstScripts, libraryOf, scriptsOf } from '../../e2e/weigh';
import type { Row } from './table';

/** Script of the first screen and of the whole page, after gzip, from the build. */
export function weightRows(): Row[] {
	const all = scriptsOf('build');
	const own = all.filter((script) => !libraryOf(script));
	const kB = (scripts: typeof all) => bytesOf(scripts) / 1000;
	const library = (name: string) => kB(all.filter((script) => libraryOf(script) === name)).toFixed(0);
	return [
		{
			row: 'Weight: script of the first screen, gzip',
			measured: kB(firstScripts('build')),
			limit: 60,
			kind: 'most',
			unit: 'kB'
		},
		{
			row: 'Weight: script of the whole page, gzip',
			measured: kB(own),
			limit: 220,
			kind: 'most',
			unit: 'kB',
			note: `and, when a session or a picture wants them, Tone ${library('Tone')} kB and Chart.js ${library('Chart.js')} kB`
		}
	];
}
