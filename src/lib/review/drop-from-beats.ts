import { dropFromRr60 } from '$lib/physiology/drop-from-rr';
import { cleanIntervals, intervalsOf } from '$lib/physiology/rr-intervals';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import type { RecordHead } from '$lib/record/record';
import { rrGapsOf } from '$lib/review/second-opinion';

/** Beats from so long before a bell help to judge those near it. */
export const beatsBeforeBellMs = 60_000;

/**
 * The drop at 60 of a rest as its RR intervals tell it, beside the strap's own rate.
 *
 * @param readings of one strap, from `beatsBeforeBellMs` before the bell to the rest's end
 */
export function dropFromBeats(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	rest: Phase,
	restS: number
): number | undefined {
	// A rest may last for hours; what comes after the minute tells nothing of it.
	const near = readings.filter(({ ms }) => ms < rest.startMs + 62_000);
	const gaps = rrGapsOf(head.events, { pauses: phases.flatMap(({ pauses }) => pauses) });
	return dropFromRr60(cleanIntervals(intervalsOf(near, gaps)).corrected, rest.startMs, restS);
}
