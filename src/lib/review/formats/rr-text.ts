import type { SessionRecord } from '$lib/record/body';
import { intervalsOf } from '$lib/physiology/rr-intervals';
import { heardIn } from '../heard';
import { rrGapsOf } from '../second-opinion';
import { livedPhases } from '../summary';

/**
 * The neighbouring RR intervals of a record, in stretches: nothing is joined across a loss of signal, a pause or a
 * packet without contact. As the strap sent them, faulty beats included.
 */
export function rrStretchesOf(record: SessionRecord) {
	const pauses = livedPhases(record.head).flatMap((phase) => phase.pauses);
	return intervalsOf(heardIn(record).readings, rrGapsOf(record.head.events, { pauses }));
}

export const gapLine = '# gap: beats are missing here';
export const simulatedLine = '# simulated: no heart was measured';

/**
 * The RR intervals of a record as plain text: one interval in ms a line, to a tenth, which is finer than the 1/1024 s
 * that a strap sends. Lines that begin with # tell gaps, and that a record is simulated; they hold no digit.
 *
 * What readers make of them: numpy's loadtxt and gnuplot pass over # lines by themselves, R's scan does once told
 * (comment.char), and a reader that picks the numbers out of any text finds none there. One that picks runs of digits takes
 * the tenth for none of its own, because it is a single digit; two would be an interval more. Only a reader that takes
 * every line for a number stumbles, so a file without a gap has no such line unless it is simulated.
 */
export function rrText(record: SessionRecord): string {
	const stretches = rrStretchesOf(record).map((stretch) => stretch.map(({ rrMs }) => rrMs.toFixed(1)));
	const lines = stretches.flatMap((stretch, i) => (i === 0 ? stretch : [gapLine, ...stretch]));
	return [...(record.head.practice ? [simulatedLine] : []), ...lines, ''].join('\n');
}
