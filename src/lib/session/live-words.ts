import { blockAhead, blockOf } from '$lib/rounds/blocks';
import { plannedRunMs, type Phase } from '$lib/rounds/timeline';
import { beats } from '$lib/review/beats';
import { briefVerdict, noBurstWords, phaseWords } from '$lib/review/words';
import { sideOf } from '$lib/physiology/aim';
import { aimOfAthleteWords } from '$lib/review/aim-of';
import { clockWords } from '$lib/review/clock-words';
import type { DueHandOver } from './due-hand-overs';
import type { CornerView, LiveView } from './live-view';

/** Whether nobody knows when the phase ends, so that the clock counts up. */
const countsUp = ({ remainingMs }: Pick<LiveView, 'remainingMs'>) => remainingMs === Infinity;

/** The clock of the live screen: what is left, or what has run, in whole seconds gone by, where the gym's bell ends it. */
export function shownClock(view: Pick<LiveView, 'remainingMs' | 'ranMs'>): string {
	return clockWords(countsUp(view) ? Math.floor(view.ranMs / 1000 + 0.001) * 1000 : view.remainingMs);
}

/** What that clock is called. */
export function clockName(view: Pick<LiveView, 'remainingMs'>): string {
	return countsUp(view) ? 'Time gone' : 'Time left';
}

/** What a session to the gym's own bell has to say besides, where there is something. */
export function gymBellWords({
	followsGymBell,
	phase
}: Pick<LiveView, 'followsGymBell' | 'phase'>): string | undefined {
	if (!followsGymBell) return undefined;
	if (phase?.kind === 'get ready')
		return "At each bell of the hall press Bell, Space or the clicker's way on.";
	return phase?.kind === 'work' ? noBurstWords : undefined;
}

const mostBareNames = 4;

/** Who boxes without a strap at this moment: "No strap: Ben, Cem and 3 others". */
export function bareWords(bare: LiveView['bare']): string {
	const names = bare.map(({ name }) => name);
	const others = names.length - mostBareNames;
	const told =
		others > 1 ? `${names.slice(0, mostBareNames).join(', ')} and ${others} others` : names.join(', ');
	return `No strap: ${told}`;
}

/** Whose turn a strap is: "Strap to Ben"; with the measured minute still on, when. */
export function handOverWords({ fromName, toName, waitMs }: DueHandOver, areSeveral: boolean): string {
	const words = areSeveral ? `Strap of ${fromName} to ${toName}` : `Strap to ${toName}`;
	return waitMs === 0 ? words : `${words} in ${clockWords(waitMs)}, after the measured minute`;
}

/** What the clock is doing; in a session of several blocks with what is done: "Round 5 of 18 · bag". */
export function phaseTitle({
	phase,
	roundCount,
	kind,
	blocks
}: Pick<LiveView, 'phase' | 'roundCount' | 'kind' | 'blocks'>): string {
	const words = phaseWords(phase, roundCount, kind);
	const isOfBlock = phase && blocks.length > 1 && ['get ready', 'work', 'rest'].includes(phase.kind);
	return isOfBlock ? `${words} · ${blockAhead(blocks, phase).activity}` : words;
}

/** What comes after the phase that runs: its name, and how long it is to last where that is known. */
export interface NextWords {
	name: string;
	length?: string;
	/** What is done in the block that begins with it, or after it. */
	block?: string;
}

/**
 * What the rail says of what comes next.
 *
 * @example nextWords(view) // { name: 'Round 2', length: '3:00' }
 */
export function nextWords(
	view: Pick<LiveView, 'phase' | 'next' | 'followsGymBell' | 'kind' | 'blocks'>
): NextWords {
	const { phase, next, followsGymBell, kind, blocks } = view;
	const block = (number: number | undefined) =>
		blocks.length > 1 && number !== undefined && { block: blockOf(blocks, { block: number }).activity };
	if (followsGymBell && phase && phase.kind !== 'closing') {
		const round = phase.kind === 'rest' ? (phase.round ?? 0) + 1 : (phase.round ?? 1);
		return {
			name: phase.kind === 'work' ? 'Rest' : `Round ${round}`,
			length: 'at the bell',
			...block(phase.toBlock)
		};
	}
	if (!next) return { name: 'Review' };
	if (next.kind === 'rest') {
		if (next.toBlock !== undefined) return { name: 'Pause', length: lengthOf(next), ...block(next.toBlock) };
		return { name: 'Rest', length: next.downToPercent === undefined ? lengthOf(next) : 'until recovered' };
	}
	const name = next.kind === 'get ready' ? 'Get ready' : phaseWords(next, undefined, kind);
	return { name, length: lengthOf(next), ...(next.kind === 'work' && block(phase?.toBlock)) };
}

const lengthOf = (phase: Phase) => clockWords(plannedRunMs(phase));

/** Time over the threshold, in minutes and seconds. */
export interface OverWords {
	/** In the round that runs or ran last. */
	round: string;
	/** In all rounds of the session so far. */
	session: string;
	/** In the closing burst of the round, where there is some. */
	burst?: string;
}

/** What the line of the time over the threshold says; undefined without a threshold, or before the first round. */
export function overWords({ over, bands }: Pick<CornerView, 'over' | 'bands'>): OverWords | undefined {
	if (!over) return undefined;
	return {
		round: clockWords(over.overS * 1000),
		session: clockWords((bands?.['over threshold'] ?? 0) * 1000),
		...(over.burstOverS > 0 && { burst: clockWords(over.burstOverS * 1000) })
	};
}

/** What the line of the aim says: what is aimed at, and how long of the round it was, where that is counted. */
export interface AimLine {
	words: string;
	/** "0:40 of 1:30", and which way it is missed at this moment. */
	inAim?: string;
	now?: 'below' | 'above' | 'in';
}

/** Undefined where the block has no aim. */
export function aimLine({
	aim,
	signal,
	thresholdBpm,
	measuredMaxBpm
}: Pick<CornerView, 'aim' | 'signal' | 'thresholdBpm' | 'measuredMaxBpm'>): AimLine | undefined {
	if (!aim) return undefined;
	const { range, time } = aim;
	const words = aimOfAthleteWords(aim.aim, { thresholdBpm, measuredMaxBpm });
	const now = range && signal.bpm !== undefined ? sideOf(signal.bpm, range) : undefined;
	const judgedS = time && time.inS + time.belowS + time.aboveS;
	return {
		words,
		...(now && { now }),
		...(judgedS !== undefined && {
			inAim: `${clockWords(time!.inS * 1000)} of ${clockWords(judgedS * 1000)}`
		})
	};
}

/** What stands of the rest before, while a round runs. */
export interface LastDropWords {
	round: number;
	/** Whole beats; absent where the rest has none. */
	drop?: number;
	rate60?: number;
	verdict: string;
}

/** The last rest that there was, for whoever held the bottle at second 60; undefined before the first. */
export function lastDropWords({ rounds }: Pick<CornerView, 'rounds'>): LastDropWords | undefined {
	const last = rounds.findLast(({ rest }) => rest)?.rest;
	if (!last) return undefined;
	const { drop60, rate60 } = last.measure;
	return {
		round: last.round,
		...(drop60 !== undefined && { drop: beats(drop60) }),
		...(rate60 !== undefined && { rate60: beats(rate60) }),
		verdict: briefVerdict(last.measure)
	};
}
