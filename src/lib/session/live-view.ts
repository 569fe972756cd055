import type { Strap } from '$lib/gatt/strap';
import type { TimeInBands } from '$lib/physiology/intensity';
import type { OverThreshold } from '$lib/physiology/over-threshold';
import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import type { Amendment } from '$lib/rounds/amendment';
import type { PlanKind } from '$lib/rounds/plan';
import { isPausedAt, ranMs, remainingMs, type Phase } from '$lib/rounds/timeline';
import type { GuidedView } from './live-guided';
import type { LiveRound } from './corner-tally';
import type { LiveCorner } from './live-corner';
import type { RestView } from './live-rest';
import { isRest } from '$lib/review/phase-times';
import { wornBy, type CornerSoFar } from '$lib/record/record-builder';
import type { Recorder } from './recorder';
import { restByHeart, type RestByHeart } from './rest-by-heart';
import { signalOf, type Signal } from './signal';

/** The last rest stays on the screen this long into the next round, for whoever held the bottle at second 60. */
const lastRestShownMs = 30_000;

/** What the screen shows of one athlete at one moment. */
export interface CornerView {
	/** What the recorder knows the corner by. */
	corner: number;
	/** The digit that enlarges it: 1, 2, ... */
	number: number;
	name: string;
	athleteId: string;
	strapName: string;
	/** Something answers for the corner, be it silent; a strap that was given back no longer does. */
	hasStrap: boolean;
	practice: boolean;
	thresholdBpm?: number;
	thresholdBasis?: ThresholdBasis;
	signal: Signal;
	/** Stands over the threshold right now, in work. */
	isOver: boolean;
	/** A rate that the athlete is not to go over today and is over right now; see `CeilingWatch`. */
	overCeilingBpm?: number;
	/** The round that runs or ran last; absent without a threshold. */
	over?: OverThreshold;
	/** The rest that runs now. */
	rest?: RestView;
	/** The rest that has just ended, during the first half minute after it. */
	lastRest?: RestView;
	rounds: readonly LiveRound[];
	ignoresContact: boolean;
	/** Seconds of work so far by share of the threshold; absent without one. */
	bands?: TimeInBands;
}

/** What the screen shows at one moment: everything derived, nothing kept. */
export interface LiveView {
	elapsedMs: number;
	/** Absent once the last phase is over. */
	phase?: Phase;
	/** What follows it; absent at the end, and where the gym's own bell rings. */
	next?: Phase;
	/** Infinity where the gym's own bell ends the phase. */
	remainingMs: number;
	/** What the phase has run: the clock counts it up where the gym's own bell ends the phase. */
	ranMs: number;
	isPaused: boolean;
	/** Absent where the gym's own bell rings: nobody knows. */
	roundCount?: number;
	/** The page is silent, and somebody presses a key at each bell of the hall. */
	followsGymBell?: true;
	/** In a rest by heart: who is down and who is waited for. */
	byHeart?: RestByHeart;
	possible: ReadonlySet<Amendment['kind']>;
	canDiscard: boolean;
	/** The share of the threshold that rests last until, in percent of it. */
	restDownToPercent?: number;
	/** How long the computer slept, while the session waits to be told what to do. */
	sleptMs?: number;
	/** Those who are there now; never empty. */
	corners: CornerView[];
	kind?: PlanKind;
	/** What a guided measurement comes to so far. */
	guided?: GuidedView;
	/** Writing to the browser's store fails at the moment. */
	writeProblem?: unknown;
}

function cornerView(
	index: number,
	known: CornerSoFar,
	corner: LiveCorner,
	strap: Strap | undefined,
	phase: Phase | undefined,
	clockMs: number,
	elapsedMs: number
): CornerView {
	const { restView, restEndedMs } = corner;
	const isResting = phase !== undefined && isRest(phase);
	const isFresh = restEndedMs !== undefined && elapsedMs - restEndedMs < lastRestShownMs;
	const { strapName, practice } = wornBy(known);
	return {
		corner: index,
		number: known.number,
		athleteId: corner.athlete.athleteId,
		name: corner.athlete.name,
		strapName,
		hasStrap: strap !== undefined && strap.state.kind !== 'closed',
		practice,
		thresholdBpm: corner.athlete.thresholdBpm,
		thresholdBasis: corner.athlete.thresholdBasis,
		signal: signalOf(strap, corner, clockMs, elapsedMs),
		isOver: corner.overForS > 0,
		over: corner.rounds.at(-1)?.over,
		rest: isResting ? restView : undefined,
		lastRest: !isResting && isFresh ? restView : undefined,
		rounds: [...corner.rounds],
		ignoresContact: corner.ignoresContact,
		bands: corner.bands
	};
}

/** The phase that comes after one of a timeline. */
export function phaseAfter(timeline: readonly Phase[], phase: Phase | undefined): Phase | undefined {
	return phase && timeline[timeline.indexOf(phase) + 1];
}

/** Reads the recorder at this moment; `recorder.advance()` must have been called for it. */
export function viewOf(recorder: Recorder, elapsedMs: number): LiveView {
	const { session } = recorder;
	const phase = session.phaseAt(elapsedMs);
	const { followsGymBell, restDownToPercent } = session.plan;
	const corners = recorder.present.map((i) =>
		cornerView(
			i,
			recorder.cornerOf(i)!,
			recorder.corners[i]!,
			recorder.strapOf(i),
			phase,
			session.originMs + elapsedMs,
			elapsedMs
		)
	);
	return {
		elapsedMs,
		phase,
		next: phaseAfter(session.timeline, phase),
		remainingMs: phase ? remainingMs(phase, elapsedMs) : 0,
		ranMs: phase ? ranMs(phase, elapsedMs) : 0,
		isPaused: isPausedAt(session.timeline, elapsedMs),
		roundCount: followsGymBell ? undefined : session.roundCount,
		followsGymBell,
		byHeart: restByHeart(followsGymBell ? undefined : restDownToPercent, phase, elapsedMs, corners),
		possible: session.possibleAt(elapsedMs),
		canDiscard: session.canDiscard(elapsedMs),
		restDownToPercent: followsGymBell ? undefined : restDownToPercent,
		sleptMs: recorder.sleptMs,
		corners,
		kind: session.plan.kind,
		guided: recorder.guided?.viewAt(phase, elapsedMs),
		writeProblem: recorder.writeProblem
	};
}
