import { makeHead } from '../../store/builders';
import { readRecording } from '$lib/review/formats/read-recording';
import { recordOfImport } from '$lib/review/imported';
import { livedPhases } from '$lib/review/summary';
import type { SessionRecord } from '$lib/record/body';

export const about = {
	id: 'in-1',
	startedAt: '2026-03-02T18:30:00.000Z',
	zone: 'Europe/Lisbon',
	fileName: 'a.csv'
};

export function read(text: string) {
	const answer = readRecording(text);
	if (answer.status !== 'read') throw new Error(answer.problem);
	return answer.trace;
}
/** The session in a table, as it comes in. */
export const broughtBack = (text: string, athlete = makeHead().athlete) =>
	recordOfImport(read(text), { kind: 'rounds', activity: 'bag' }, athlete, about);

export const boxedPhases = ({ head }: SessionRecord) =>
	livedPhases(head)
		.filter(({ kind }) => ['work', 'rest', 'closing'].includes(kind))
		.map(({ kind, round, startMs, endMs }) => ({ kind, round, startMs, endMs }));
