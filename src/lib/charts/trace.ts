import { firstIndex } from '$lib/physiology/first-index';

/** One second of a heart-rate trace. `bpm` is null where the strap sent nothing usable. */
export interface TracePoint {
	/** Elapsed seconds of the session. */
	tS: number;
	bpm: number | null;
}

/** From `fromS` up to, not including, `toS`. */
export interface Stretch {
	fromS: number;
	toS: number;
}

/** A spell of work over the threshold that counts, outside the closing burst of its round or inside it. */
export interface OverStretch extends Stretch {
	inBurst: boolean;
}

/** One part of the session, in elapsed seconds. */
export interface TracePhase {
	kind: 'warm-up' | 'get ready' | 'work' | 'rest' | 'closing' | 'cool-down';
	round?: number;
	startS: number;
	endS: number;
	/** Where the clock stood still. */
	pauses?: readonly Stretch[];
	/** Of work: the seconds that the table counts as over the threshold, counted by the same measure. */
	spells?: readonly OverStretch[];
	/** Of a rest: its drop in the first minute, where it could be measured. */
	drop60?: number;
}

/** Shorter gaps are ordinary radio loss: they stay open in the line but earn no mark. */
const minMarkedGapS = 3;

/** Index of the first point at or after a second; points in order of time. */
export function firstAtOrAfter(points: readonly TracePoint[], tS: number): number {
	return firstIndex(points, (point) => point.tS >= tS);
}

/** Index of the first point after a second; points in order of time. */
export function firstAfter(points: readonly TracePoint[], tS: number): number {
	return firstIndex(points, (point) => point.tS > tS);
}

/** Runs of points, one a second, for which `belongs` holds, each ending one second after its last point. */
function runsOf(points: readonly TracePoint[], belongs: (point: TracePoint) => boolean): Stretch[] {
	const runs: Stretch[] = [];
	let open: Stretch | undefined;
	for (const point of points) {
		if (!belongs(point)) open = undefined;
		else if (open) open.toS = point.tS + 1;
		else runs.push((open = { fromS: point.tS, toS: point.tS + 1 }));
	}
	return runs;
}

/** Stretches of at least 3 s without a usable reading. */
export function signalGaps(points: readonly TracePoint[]): Stretch[] {
	return runsOf(points, (point) => point.bpm === null).filter((gap) => gap.toS - gap.fromS >= minMarkedGapS);
}

/** The highest point, the first of equals; undefined where nothing was read. */
export function peakOf(points: readonly TracePoint[]): { tS: number; bpm: number } | undefined {
	let peak: { tS: number; bpm: number } | undefined;
	for (const { tS, bpm } of points) if (bpm !== null && (!peak || bpm > peak.bpm)) peak = { tS, bpm };
	return peak;
}

/**
 * From the first second to the last, of readings and phases alike, at least 1 s. A phase left open by a pause that
 * never ended has no end of its own and does not count.
 */
export function wholeOf(points: readonly TracePoint[], phases: readonly TracePhase[]): Stretch {
	const starts = [...points.slice(0, 1).map(({ tS }) => tS), ...phases.map(({ startS }) => startS)];
	const ends = [...points.slice(-1).map(({ tS }) => tS + 1), ...phases.map(({ endS }) => endS)];
	const fromS = starts.length > 0 ? Math.min(...starts) : 0;
	return { fromS, toS: Math.max(fromS + 1, ...ends.filter(Number.isFinite)) };
}

/** Elapsed seconds as the clock shows them: `clockText(754)` is "12:34". */
export function clockText(seconds: number): string {
	const whole = Math.floor(seconds);
	return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
