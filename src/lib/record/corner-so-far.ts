import type { StrapChange } from './head';
import type { Entrant } from './journal';
import { spansOf, type Span } from './worn';

/** What is known of one corner of a session that runs besides its readings. */
export interface CornerSoFar {
	readonly entrant: Entrant;
	/** 1, 2, ...: the lowest that was free when the athlete came. It changes with a strap alone: the number is the place's. */
	number: number;
	/** Which of the session's lists of turns goes with the strap that is worn; see `SessionStart`. */
	turns?: number;
	/** Absent for those who were there at Start. */
	readonly joinedMs?: number;
	leftMs?: number;
	readonly strapChanges: StrapChange[];
	/** When a strap was on (`wornSoFar`): another list after every hand-over and no other time, since each packet asks for it. */
	worn: readonly Span[];
}

/** The strap that answers for a corner now, or did last. */
export function wornBy({
	entrant,
	strapChanges
}: CornerSoFar): Pick<StrapChange, 'practice'> & { strapName?: string } {
	return strapChanges.at(-1) ?? entrant;
}

/** When a strap was on, from the first moment to the last. */
export const wornSoFar = ({
	entrant,
	joinedMs,
	strapChanges
}: Pick<CornerSoFar, 'entrant' | 'joinedMs' | 'strapChanges'>): Span[] =>
	spansOf(joinedMs ?? -Infinity, entrant.strapName === undefined, strapChanges);

/** Whether somebody has a strap on, be it a silent one. */
export const isWearing = ({ worn }: CornerSoFar): boolean => worn.at(-1)?.toMs === Infinity;

/** Whether somebody wore a strap at any time. */
export const wasStrapped = ({ entrant, strapChanges }: CornerSoFar): boolean =>
	entrant.strapName !== undefined || strapChanges.length > 0;

/** The place on the screen and the turns go with the strap. */
export function changePlaces(one: CornerSoFar, other: CornerSoFar): void {
	[one.number, other.number] = [other.number, one.number];
	[one.turns, other.turns] = [other.turns, one.turns];
}
