import type { TimeInAim } from '$lib/physiology/aim';
import type { OverThreshold } from '$lib/physiology/over-threshold';
import type { AthleteSnapshot } from '$lib/record/head';
import type { Span } from '$lib/record/worn';
import type { BeforeByActivity } from '$lib/review/known-before';
import { isRest } from '$lib/review/phase-times';
import type { Block, PlanKind } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { RestView } from './live-rest';

/** Getting ready to box a round again has a bell behind it: where the session is finished there, it was a rest. */
export const mayBeRest = (phase: Phase) =>
	isRest(phase) || (phase.kind === 'get ready' && phase.attempt !== undefined);

/** A phase keeps its start, whatever is amended, and a rest may turn into the closing minute or back. */
export const isSamePhase = (a: Phase, b: Phase) =>
	a.startMs === b.startMs && (a.kind === b.kind || (mayBeRest(a) && mayBeRest(b)));

/** What became of a round and its rest, for the strip of all rounds so far. */
export interface LiveRound {
	round: number;
	attempt: number;
	/** Of which of the session's blocks, from the second on. */
	block?: number;
	/** Absent where the block has no aim that something known measures. */
	aim?: TimeInAim;
	/** Absent without a threshold. */
	over?: OverThreshold;
	rest?: RestView;
}

/** Whose seconds are counted, and of what. */
export interface Counted {
	athlete: AthleteSnapshot;
	/** When a strap was on so far, in elapsed ms; the same list until that changes. */
	worn: () => readonly Span[];
	/** Of a guided measurement. */
	kind?: PlanKind;
	/** The session's blocks as they have become by now. */
	blocks?: () => readonly Block[];
	/** What the athlete's sessions before this one tell, once that has been read; of no use to anything that is kept. */
	before?: BeforeByActivity;
}
