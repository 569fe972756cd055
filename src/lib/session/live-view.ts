import { wornBy, type CornerSoFar } from '$lib/record/corner-so-far';
import type { Strap } from '$lib/gatt/strap';
import type { RateRange, TimeInAim } from '$lib/physiology/aim';
import type { TimeInBands } from '$lib/physiology/intensity';
import type { OverThreshold } from '$lib/physiology/over-threshold';
import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import type { Amendment } from '$lib/rounds/amendment';
import { blockAhead, roundsIn } from '$lib/rounds/blocks';
import type { Aim } from '$lib/rounds/aim';
import type { Block, PlanKind } from '$lib/rounds/plan';
import { isPausedAt, phaseAfter, ranMs, remainingMs, type Phase } from '$lib/rounds/timeline';
import type { GuidedView } from './live-guided';
import type { LiveRound } from './counted';
import type { LiveCorner } from './live-corner';
import type { RestView } from './live-rest';
import { isRest } from '$lib/review/phase-times';
import { rangeOf } from '$lib/review/aim-of';
import type { DueHandOver } from './due-hand-overs';
import type { Recorder } from './recorder';
import { undoMs } from './worn-straps';
import { restByHeart, type RestByHeart } from './rest-by-heart';
import { signalOf, type Signal } from './signal';

/** The last rest stays on the screen this long into the next round, for whoever held the bottle at second 60. */
const lastRestShownMs = 30_000;

/** An aim as one athlete has it. */
export interface AimView {
	aim: Aim;
	/** Absent where nothing known measures it. */
	range?: RateRange;
	/** Of the round that runs or ran last, where it has this aim. */
	time?: TimeInAim;
}

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
	measuredMaxBpm?: number;
	signal: Signal;
	/** Stands over the threshold right now, in work. */
	isOver: boolean;
	/** A rate that the athlete is not to go over today and is over right now; see `CeilingWatch`. */
	overCeilingBpm?: number;
	/** The round that runs or ran last; absent without a threshold. */
	over?: OverThreshold;
	/** What the block that runs, or that the pause leads to, is to be boxed at. */
	aim?: AimView;
	/** The rest that runs now. */
	rest?: RestView;
	/** The rest that has just ended, during the first half minute after it. */
	lastRest?: RestView;
	rounds: readonly LiveRound[];
	ignoresContact: boolean;
	/** Seconds of work so far by share of the threshold; absent without one. */
	bands?: TimeInBands;
}

/** Somebody who takes part without a strap at this moment. */
export interface BareCorner {
	corner: number;
	athleteId: string;
	name: string;
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
	/** As they have become by now; there is always one. */
	blocks: readonly Block[];
	/** The page is silent, and somebody presses a key at each bell of the hall. */
	followsGymBell?: true;
	/** In a rest by heart: who is down and who is waited for. */
	byHeart?: RestByHeart;
	possible: ReadonlySet<Amendment['kind']>;
	canDiscard: boolean;
	/** How long the computer slept, while the session waits to be told what to do. */
	sleptMs?: number;
	/** Those who are there now with a strap on; never empty. */
	corners: CornerView[];
	/** Those who are there without one. */
	bare: readonly BareCorner[];
	/** Straps that are to change hands before the next round. */
	due: readonly DueHandOver[];
	/** The hand-over that can still be taken back, and for how long. */
	undoable?: { fromName: string; toName: string; leftMs: number };
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
	aim: Aim | undefined,
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
		strapName: strapName ?? '',
		hasStrap: strap !== undefined && strap.state.kind !== 'closed',
		practice,
		thresholdBpm: corner.athlete.thresholdBpm,
		thresholdBasis: corner.athlete.thresholdBasis,
		measuredMaxBpm: corner.athlete.measuredMaxBpm,
		signal: signalOf(strap, corner, clockMs, elapsedMs),
		isOver: corner.overForS > 0,
		over: corner.rounds.at(-1)?.over,
		aim: aim && aimView(aim, corner, phase),
		rest: isResting ? restView : undefined,
		lastRest: !isResting && isFresh ? restView : undefined,
		rounds: [...corner.rounds],
		ignoresContact: corner.ignoresContact,
		bands: corner.bands
	};
}

function aimView(aim: Aim, { athlete, rounds }: LiveCorner, phase: Phase | undefined): AimView {
	const range = rangeOf(aim, athlete);
	const time = phase?.toBlock === undefined ? rounds.at(-1)?.aim : undefined;
	return { aim, ...(range && { range }), ...(time && { time }) };
}

/** Reads the recorder at this moment; `recorder.advance()` must have been called for it. */
export function viewOf(recorder: Recorder, elapsedMs: number): LiveView {
	const { session } = recorder;
	const phase = session.phaseAt(elapsedMs);
	const { followsGymBell } = session.plan;
	const { blocks } = session;
	const { wearing, undoable } = recorder.straps;
	const nameOf = (corner: number) => recorder.corners[corner]!.athlete.name;
	const numberOf = (corner: number) => recorder.cornerOf(corner)!.number;
	// By number: a lane stays where it is when its strap goes to another chest.
	const corners = wearing
		.toSorted((one, other) => numberOf(one) - numberOf(other))
		.map((i) =>
			cornerView(
				i,
				recorder.cornerOf(i)!,
				recorder.corners[i]!,
				recorder.straps.of(i),
				phase,
				phase && blockAhead(blocks, phase).aim,
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
		roundCount: followsGymBell ? undefined : roundsIn(blocks),
		blocks,
		followsGymBell,
		byHeart: restByHeart(phase?.downToPercent, phase, elapsedMs, corners),
		possible: session.possibleAt(elapsedMs),
		canDiscard: session.canDiscard(elapsedMs),
		sleptMs: recorder.sleptMs,
		corners,
		bare: recorder.present.flatMap((corner) => {
			const { athleteId, name } = recorder.corners[corner]!.athlete;
			return wearing.includes(corner) ? [] : { corner, athleteId, name };
		}),
		due: recorder.due,
		undoable: undoable && {
			fromName: nameOf(undoable.from),
			toName: nameOf(undoable.to),
			leftMs: undoMs - (elapsedMs - undoable.ms)
		},
		kind: session.plan.kind,
		guided: recorder.guided?.viewAt(phase, elapsedMs),
		writeProblem: recorder.writeProblem
	};
}
