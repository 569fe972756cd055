import { existsSync, readFileSync } from 'node:fs';

const folder = new URL('../../../shared/data/', import.meta.url);

/** Whether the openly licensed recordings, which are not part of this project, lie beside it. */
export const hasRecordings = existsSync(folder);

/** Says in the list of tests what was left out and why. */
export const ofRecordings = (text: string) =>
	hasRecordings
		? text
		: `SKIPPED, the folder of openly licensed recordings is not beside this project: ${text}`;

/** The intervals of one of them, ms. */
export const recorded = (name: string): number[] =>
	readFileSync(new URL(name, folder), 'utf8').trim().split(/\s+/).map(Number);
