import { type CornerSoFar, isWearing } from '$lib/record/corner-so-far';
import type { SessionStart } from '$lib/record/journal';
import { isRest } from '$lib/review/phase-times';
import { measuredRestS } from '$lib/rounds/hand-overs';
import { phaseAfter, phaseAt, ranMs, type Phase } from '$lib/rounds/timeline';
import { wearerIn } from '$lib/rounds/turns';

/** A strap whose turn is over. */
export interface DueHandOver {
	/** Corners of the recorder. */
	from: number;
	to: number;
	fromName: string;
	toName: string;
	/** How long the minute that is still measured lasts; 0 where the strap may go at once. */
	waitMs: number;
}

/** The round that comes next, or that runs where the wrong one wears the strap in it; undefined where none comes. */
function roundAhead(phase: Phase, next: Phase | undefined): number | undefined {
	// What follows the gym's own bell nobody knows.
	if (phase.kind === 'rest') return next?.round ?? (phase.round ?? 0) + 1;
	return phase.kind === 'closing' || phase.kind === 'cool-down' ? undefined : (phase.round ?? 1);
}

/** Which straps are to change hands before the next round, by the turns that were planned. */
export function dueHandOvers(
	turns: SessionStart['turns'],
	corners: ReadonlyMap<number, CornerSoFar>,
	timeline: readonly Phase[],
	elapsedMs: number
): DueHandOver[] {
	if (!turns) return [];
	const phase = phaseAt(timeline, elapsedMs);
	const round = phase && roundAhead(phase, phaseAfter(timeline, phase));
	if (!phase || round === undefined) return [];
	const waitMs = isRest(phase) ? Math.max(0, measuredRestS * 1000 - ranMs(phase, elapsedMs)) : 0;
	return [...corners].flatMap(([from, corner]): DueHandOver[] => {
		if (corner.leftMs !== undefined || corner.turns === undefined || !isWearing(corner)) return [];
		const to = wearerIn(turns[corner.turns] ?? [], round);
		const next = to === undefined ? undefined : corners.get(to);
		if (!next || to === from || next.leftMs !== undefined || isWearing(next)) return [];
		return [
			{
				from,
				to: to!,
				fromName: corner.entrant.athlete.name,
				toName: next.entrant.athlete.name,
				waitMs
			}
		];
	});
}
