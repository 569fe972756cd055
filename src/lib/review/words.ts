import type { RestMeasure } from '$lib/physiology/recovery';
import type { PlanKind } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';

/**
 * What the clock is doing, in the gym's words.
 *
 * @param roundCount absent where the gym's own bell rings
 */
export function phaseWords(
	phase: Phase | undefined,
	roundCount: number | undefined,
	kind?: PlanKind
): string {
	if (kind === 'threshold run' && phase?.kind === 'work') return 'The 20 minutes';
	if (kind === 'resting' && phase?.kind === 'work') return 'Five quiet minutes';
	if (kind === 'recovery check' && phase?.kind === 'closing') return 'Three minutes still';
	const again = phase?.attempt && phase.attempt > 1 ? ' again' : '';
	switch (phase?.kind) {
		case 'work':
			return `Round ${phase.round}${roundCount === undefined ? '' : ` of ${roundCount}`}${again}`;
		case 'rest':
			return `Rest after round ${phase.round}`;
		case 'closing':
			return 'The last minute';
		case 'get ready':
			return roundCount === undefined ? 'Waiting for the first bell' : 'Get ready';
		case 'warm-up':
			return 'Warm-up';
		case 'cool-down':
			return 'Cool-down';
		case undefined:
			return 'Over';
	}
}

/** A length as a gym clock shows it: minutes and seconds, a second that has begun counted whole. */
export function clockWords(ms: number): string {
	const s = Math.ceil(ms / 1000 - 0.001);
	return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
}

/** Where the gym's own bell rings. */
export const noBurstWords =
	"The closing burst is not counted apart: only the gym's own bell knows when the round ends.";

/** How long something lasted, for a sentence: whole minutes, seconds below two of them. */
export function lengthWords(ms: number): string {
	return ms < 120_000 ? `${Math.round(ms / 1000)} seconds` : `${Math.round(ms / 60_000)} minutes`;
}

/** Whole beats; never "-0". */
export function beats(bpm: number): number {
	return Math.round(bpm) || 0;
}

/**
 * A verdict as the screens say it. That an edge of the band is near is said only outside the band: with an
 * error of 20 % an edge is near every drop inside it, and the error stands beside the drop anyway.
 */
export function verdictWords({ verdict, nearEdge }: Pick<RestMeasure, 'verdict' | 'nearEdge'>): string {
	return nearEdge && verdict !== 'in the band' ? `${verdict}, near the edge` : verdict;
}
