import { bytesOf, firstScripts } from '../../e2e/weigh';
import type { Row } from './table';

/** Script of the first screen, after gzip, from the build. */
export function weightRows(): Row[] {
	return [
		{
			row: 'Weight: script of the first screen, gzip',
			measured: bytesOf(firstScripts('build')) / 1000,
			limit: 75,
			kind: 'most',
			unit: 'kB'
		}
	];
}
