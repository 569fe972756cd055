/** One RR interval as a strap sent it. */
export interface Interval {
	/** Arrival of its packet, ms, on the clock of the readings; the beat that ends it lies up to 2 s earlier. */
	ms: number;
	/** Time from one beat to the next, ms. */
	rrMs: number;
}

/** An interval with what the artefact rule makes of it. */
export interface MarkedInterval extends Interval {
	isArtefact: boolean;
	/** The first after a gap, or where the rule starts anew: it is no neighbour of the one before it. */
	startsAnew: boolean;
}

export interface CleanIntervals {
	/** Every interval, artefacts included, in order of arrival. */
	intervals: MarkedInterval[];
	/** Accepted intervals in ms, cut wherever two of them are not neighbours. */
	runs: number[][];
	/** Share of the intervals that are artefacts, 0 to 1; undefined without any interval. */
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
const agreeingToStartAnew = 3;
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
 * Marks artefacts: an interval outside 240 to 2000 ms, or more than 20 % away from the last accepted one. The
 * usual lower limit of 300 ms would refuse a youth's 205 bpm. The rule starts anew in every stretch, and where
 * three rejected intervals in a row agree with one another within 20 %: they are then accepted, joined to
 * nothing before them. Otherwise one bad interval could lock the rule up. If that one is all that was accepted
 * before, three witnesses stand against it and it is an artefact itself (own rule).
 *
 * Error: an artefact within 20 % passes, and a true change of more than 20 % from beat to beat, as in extra
 * beats or a marked breathing arrhythmia, is rejected. A finer method is Lipponen & Tarvainen, J Med Eng Technol
 * 2019;43:173-181. Source of the 20 %: Malik et al. 1989 (from memory: Eur Heart J 1989;10:1060-1074).
 *
 * @param stretches of neighbouring intervals; nothing is joined from one stretch to the next
 * @example cleanIntervals([[800, 2400, 810].map((rrMs, i) => ({ ms: 1000 * i, rrMs }))]).runs // [[800], [810]]
 */
export function cleanIntervals(stretches: readonly (readonly Interval[])[]): CleanIntervals {
	const intervals = stretches.flatMap(markStretch);
	const runs: number[][] = [];
	let run: number[] | undefined;
	for (const { rrMs, isArtefact, startsAnew } of intervals) {
		if (isArtefact || startsAnew) run = undefined;
		if (isArtefact) continue;
		if (!run) runs.push((run = []));
		run.push(rrMs);
	}
	return { intervals, runs, artefactShare: artefactShareOf(intervals) };
}

/**
 * Share of the intervals that are artefacts, 0 to 1.
 *
 * @returns undefined without any interval
 * @example artefactShareOf([{ ms: 0, rrMs: 2400, isArtefact: true, startsAnew: true }]) // 1
 */
export function artefactShareOf(intervals: readonly MarkedInterval[]): number | undefined {
	if (intervals.length === 0) return undefined;
	return intervals.filter(({ isArtefact }) => isArtefact).length / intervals.length;
}

function markStretch(stretch: readonly Interval[]): MarkedInterval[] {
	let last: number | undefined;
	let onlyAccepted: MarkedInterval | undefined;
	let witnesses: MarkedInterval[] = [];
	return stretch.map((interval, i) => {
		const marked: MarkedInterval = { ...interval, isArtefact: false, startsAnew: i === 0 };
		const { rrMs } = marked;
		if (!(rrMs >= shortestRrMs && rrMs <= longestRrMs)) {
			marked.isArtefact = true;
			witnesses = [];
		} else if (last === undefined || agree(rrMs, last)) {
			onlyAccepted = last === undefined ? marked : undefined;
			last = rrMs;
			witnesses = [];
		} else {
			marked.isArtefact = true;
			const stranger = witnesses.findLastIndex((witness) => !agree(rrMs, witness.rrMs));
			witnesses = [...witnesses.slice(stranger + 1), marked];
			if (witnesses.length === agreeingToStartAnew) {
				if (onlyAccepted) onlyAccepted.isArtefact = true;
				onlyAccepted = undefined;
				for (const witness of witnesses) witness.isArtefact = false;
				witnesses[0]!.startsAnew = true;
				last = rrMs;
				witnesses = [];
			}
		}
		return marked;
	});
}

// Multiplied out, so that exactly 20 % is not lost to the rounding of a division: 120 after 100 is kept.
function agree(rrMs: number, earlierMs: number): boolean {
	return 5 * Math.abs(rrMs - earlierMs) <= earlierMs;
}
