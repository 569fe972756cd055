import type { RecordHead } from '$lib/record/head';
import { livedPhases } from './summary';
import { phaseWords } from './words';
import { clockWords } from './clock-words';

/** A moment that was marked with the key, in elapsed seconds, and where it lay in words. */
export interface Mark {
	atS: number;
	words: string;
}

/** The marks of a session in order of time: `{ atS: 74, words: 'Round 1 of 3, 1:14 in' }`. */
export function marksOf(head: RecordHead): Mark[] {
	const phases = livedPhases(head);
	const roundCount = phases.filter(({ kind }) => kind === 'work').length;
	return head.events
		.filter(({ kind }) => kind === 'marker')
		.toSorted((a, b) => a.ms - b.ms)
		.map(({ ms }) => {
			const phase = phases.findLast(({ startMs }) => startMs <= ms);
			const into = phase ? Math.floor((ms - phase.startMs) / 1000) * 1000 : 0;
			return {
				atS: ms / 1000,
				words: `${phaseWords(phase, roundCount, head.plan.kind)}, ${clockWords(into)} in`
			};
		});
}
