import { beatFaultsOf, type BeatFault } from './beat-faults';

/** One RR interval as a strap sent it. */
export interface Interval {
	/** Arrival of its packet, ms, on the clock of the readings; the beat that ends it lies up to 2 s earlier. */
	ms: number;
	/** Time from one beat to the next, ms. */
	rrMs: number;
}

/** An interval as it was sent, with what is wrong with it. */
export interface MarkedInterval extends Interval {
	/** 'impossible' is outside 240 to 2000 ms, where nothing else explains it; absent for a good beat. */
	fault?: BeatFault | 'impossible';
}

/** An interval of the series that is measured: as it was sent, or put right. */
export interface CorrectedInterval extends Interval {
	/** It is split, joined or filled in. */
	isCorrected: boolean;
	/** The first after a gap, or after beats that could not be put right: no neighbour of the one before it. */
	startsAnew: boolean;
}

export interface CleanIntervals {
	/** Every interval as it was sent, in order of arrival. */
	intervals: MarkedInterval[];
	/** The series put right. */
	corrected: CorrectedInterval[];
	/** The same in ms, cut wherever two of them are not neighbours. */
	runs: number[][];
	/** Share of the intervals as sent that are faulty, 0 to 1; undefined without any interval. */
	artefactShare: number | undefined;
}

/** A packet as the intervals need it; a session's readings are such packets. */
export interface RrReading {
	/** Arrival, ms. */
	ms: number;
	/** The intervals it carries, ms, oldest first. */
	rrMs: readonly number[];
	contact?: 'not supported' | 'no contact' | 'contact';
}

/** A disconnection, a pause or a sleep, ms on the clock of the readings; `toMs` may be Infinity. */
export interface RrGap {
	fromMs: number;
	toMs: number;
}

const shortestRrMs = 240;
const longestRrMs = 2000;
const mostFilledAtOnce = 3;
// A beat waits up to a second for its packet and a packet is late by some tenths; an interval that was never
// sent shifts the sum by a whole beat each time, so this is reached after a few seconds without intervals.
const greatestDriftMs = 2000;
// Far under the shortest interval of a heart, so that no equal beat of its own is taken for it.
const doubledWithinMs = 50;

/**
 * The RR intervals of a strap's packets, in stretches inside which neighbours in the list are neighbours in the
 * heart. A stretch ends at every gap, at a packet without contact (whose intervals are left out, like those
 * that arrive inside a gap), and where the intervals' sum and the time of arrival have drifted more than 2 s
 * apart, because then intervals are missing although packets came (own rule).
 *
 * A link delivers each packet once and in order (its packets are numbered and acknowledged: Bluetooth Core
 * Specification, Vol 6, Part B, 4.5.9, from memory). A packet that brings the very intervals of the one before
 * within 50 ms was therefore handed out twice on the way to the page, and its intervals
 * count once (own rule). A packet out of order cannot be told, because a measurement carries no number.
 *
 * @param readings in order of arrival, `ms` never falling
 * @param gaps in any order, overlapping or not; one without length still cuts
 * @example intervalsOf([{ ms: 900, rrMs: [800] }, { ms: 1900, rrMs: [810] }], [{ fromMs: 1000, toMs: 1500 }])
 * // two stretches of one interval each
 */
export function intervalsOf(readings: readonly RrReading[], gaps: readonly RrGap[] = []): Interval[][] {
	const sortedGaps = [...gaps].sort((a, b) => a.fromMs - b.fromMs);
	let nextGap = 0;
	let gapEndMs = -Infinity;
	const stretches: Interval[][] = [];
	let open: Interval[] | undefined;
	let originMs = 0;
	let beatsMs = 0;
	let before: RrReading | undefined;
	for (const reading of readings) {
		const { ms, rrMs, contact } = reading;
		const isDoubled = before !== undefined && isSamePacket(before, reading);
		before = reading;
		for (; nextGap < sortedGaps.length && sortedGaps[nextGap]!.fromMs <= ms; nextGap++) {
			gapEndMs = Math.max(gapEndMs, sortedGaps[nextGap]!.toMs);
			open = undefined;
		}
		if (ms < gapEndMs || contact === 'no contact') {
			open = undefined;
			continue;
		}
		if (rrMs.length === 0 || isDoubled) continue;
		beatsMs += rrMs.reduce((sum, rr) => sum + rr, 0);
		// Turned round, so that a number that is none cuts too.
		if (!(Math.abs(ms - originMs - beatsMs) <= greatestDriftMs)) open = undefined;
		if (!open) {
			stretches.push((open = []));
			originMs = ms;
			beatsMs = 0;
		}
		for (const rr of rrMs) open.push({ ms, rrMs: rr });
	}
	return stretches;
}

function isSamePacket(before: RrReading, { ms, rrMs }: RrReading): boolean {
	const sinceMs = ms - before.ms;
	return (
		sinceMs >= 0 &&
		sinceMs <= doubledWithinMs &&
		rrMs.length === before.rrMs.length &&
		rrMs.every((rr, i) => rr === before.rrMs[i])
	);
}

/**
 * Marks faulty beats (`beatFaultsOf`) and puts them right: a missed beat is put in half-way, an extra one is joined
 * with the next interval, and the others are filled in on a straight line between the good intervals on either
 * side, by as many beats as their time holds (Lipponen & Tarvainen, J Med Eng Technol 2019;43:173-181, abstract).
 *
 * Own rules: what is still outside 240 to 2000 ms is impossible (the usual lower limit of 300 ms would refuse a youth's 205
 * bpm) and filled in likewise. Where more than three beats in a row would have to be filled in, and at the ends of a stretch,
 * where there is nothing to fill in between, they are left out and nothing is joined across them.
 *
 * Error: see `beatFaultsOf`. Faults put into 2 to 5 % of the beats of recordings at rest, which double RMSSD or
 * worse, move it by up to a fifth after the correction, mostly by under a twentieth.
 *
 * @param stretches of neighbouring intervals; nothing is joined from one stretch to the next
 * @example cleanIntervals([[800, 810, 1610, 805, 798].map((rrMs) => ({ ms: 0, rrMs }))]).runs // [[800, 810, 805, 805, 805, 798]]
 */
export function cleanIntervals(stretches: readonly (readonly Interval[])[]): CleanIntervals {
	const marked = stretches.map(markStretch);
	const corrected = marked.flatMap(putRight);
	const runs: number[][] = [];
	for (const { rrMs, startsAnew } of corrected) {
		if (startsAnew) runs.push([]);
		runs.at(-1)!.push(rrMs);
	}
	const intervals = marked.flat();
	return { intervals, corrected, runs, artefactShare: artefactShareOf(intervals) };
}

/**
 * Share of the intervals as sent that are faulty, 0 to 1: the bad beats.
 *
 * @returns undefined without any interval
 * @example artefactShareOf([{ ms: 0, rrMs: 2400, fault: 'impossible' }]) // 1
 */
export function artefactShareOf(intervals: readonly MarkedInterval[]): number | undefined {
	if (intervals.length === 0) return undefined;
	return intervals.filter(({ fault }) => fault !== undefined).length / intervals.length;
}

function markStretch(stretch: readonly Interval[]): MarkedInterval[] {
	// A length that is none has no neighbours: the beats on either side are judged apart.
	const marked: MarkedInterval[] = [];
	let piece: number[] = [];
	const judged = () => {
		const faults = beatFaultsOf(piece);
		const from = marked.length - piece.length;
		faults.forEach((fault, i) => {
			const each = marked[from + i]!;
			const isJoined = faults[i - 1] === 'extra' && isPossible(piece[i - 1]! + each.rrMs);
			if (isJoined) return;
			const isExplained = fault === 'missed' || fault === 'extra';
			if (!isExplained && !isPossible(each.rrMs)) each.fault = 'impossible';
			else if (fault) each.fault = fault;
		});
		piece = [];
	};
	for (const { ms, rrMs } of stretch) {
		const isLength = rrMs > 0 && rrMs < Infinity;
		if (!isLength) judged();
		marked.push(isLength ? { ms, rrMs } : { ms, rrMs, fault: 'impossible' });
		if (isLength) piece.push(rrMs);
	}
	judged();
	return marked;
}

const isPossible = (rrMs: number) => rrMs >= shortestRrMs && rrMs <= longestRrMs;

/** The series of one stretch with its beats put right. */
function putRight(stretch: readonly MarkedInterval[]): CorrectedInterval[] {
	const corrected: CorrectedInterval[] = [];
	let bad: Interval[] = [];
	let startsAnew = true;
	const take = (ms: number, rrMs: number, isCorrected: boolean) => {
		if (!startsAnew && bad.length > 0) {
			const filled = filledBetween(corrected.at(-1)!.rrMs, bad, rrMs);
			corrected.push(...filled);
			startsAnew = filled.length === 0;
		}
		bad = [];
		corrected.push({ ms, rrMs, isCorrected, startsAnew });
		startsAnew = false;
	};
	for (let i = 0; i < stretch.length; i++) {
		const { ms, rrMs, fault } = stretch[i]!;
		const next = stretch[i + 1];
		if (fault === 'extra' && next && isPossible(rrMs + next.rrMs)) {
			take(next.ms, rrMs + next.rrMs, true);
			i++;
		} else if (fault === 'missed' && isPossible(rrMs / 2)) {
			take(ms, rrMs / 2, true);
			take(ms, rrMs / 2, true);
		} else if (fault) bad.push({ ms, rrMs });
		else take(ms, rrMs, false);
	}
	return corrected;
}

/** As many beats as the time of the bad ones holds, on a straight line from the good one before to the one after. */
function filledBetween(beforeMs: number, bad: readonly Interval[], afterMs: number): CorrectedInterval[] {
	const timeMs = bad.reduce((sum, { rrMs }) => sum + rrMs, 0);
	const count = Math.max(1, Math.round((2 * timeMs) / (beforeMs + afterMs)));
	if (!(count <= mostFilledAtOnce)) return [];
	const { ms } = bad.at(-1)!;
	return Array.from({ length: count }, (_, k) => ({
		ms,
		rrMs: beforeMs + ((afterMs - beforeMs) * (k + 1)) / (count + 1),
		isCorrected: true,
		startsAnew: false
	}));
}
