import type { CleanIntervals } from './rr-intervals';

/** Time-domain variability; what there is too little data for is undefined, and `reasons` says so. */
export interface Variability {
	meanRrMs?: number;
	meanRateBpm?: number;
	rmssdMs?: number;
	sdnnMs?: number;
	nn50?: number;
	/** Intervals of the series put right. */
	intervalCount: number;
	/** Share of the beats that were bad, 0 to 1. */
	artefactShare: number | undefined;
	/** Why something is withheld or doubtful, in sentences for the page. */
	reasons: string[];
}

const leastIntervals = 31;
const doubtfulShare = 0.05;

function differencesIn(runs: readonly (readonly number[])[]): number[] {
	return runs.flatMap((run) => run.slice(1).map((rrMs, i) => rrMs - run[i]!));
}

/**
 * RMSSD, ms: root of the mean squared difference between neighbouring intervals. Exact; its scatter from one
 * minute to the next is large, so compare means over days. Source: Task Force of the European Society of
 * Cardiology and the North American Society of Pacing and Electrophysiology, Circulation 1996;93:1043-65.
 *
 * @param runs of neighbouring intervals, ms; no difference is taken from one run to the next
 * @returns undefined without a pair of neighbours
 * @example rmssd([[800, 810, 815, 750]]) // 38.0788655
 */
export function rmssd(runs: readonly (readonly number[])[]): number | undefined {
	const differences = differencesIn(runs);
	if (differences.length === 0) return undefined;
	return Math.sqrt(differences.reduce((sum, each) => sum + each ** 2, 0) / differences.length);
}

/**
 * SDNN, ms: standard deviation of all intervals, with n - 1. It grows with the length of a recording,
 * so compare only equal lengths. Source: Task Force, Circulation 1996;93:1043-65.
 *
 * @param runs of neighbouring intervals, ms
 * @returns undefined under two intervals
 * @example sdnn([[800, 810, 815, 750]]) // 29.8258836
 */
export function sdnn(runs: readonly (readonly number[])[]): number | undefined {
	const all = runs.flat();
	if (all.length < 2) return undefined;
	const mean = all.reduce((sum, rrMs) => sum + rrMs, 0) / all.length;
	return Math.sqrt(all.reduce((sum, rrMs) => sum + (rrMs - mean) ** 2, 0) / (all.length - 1));
}

/**
 * NN50: pairs of neighbouring intervals that differ by strictly more than 50 ms; it grows with the length of a
 * recording. Source: Task Force, Circulation 1996;93:1043-65.
 *
 * @param runs of neighbouring intervals, ms; no pair is formed from one run to the next
 * @returns a count; undefined without a pair of neighbours
 * @example nn50([[800, 810, 815, 750]]) // 1
 */
export function nn50(runs: readonly (readonly number[])[]): number | undefined {
	const differences = differencesIn(runs);
	if (differences.length === 0) return undefined;
	return differences.filter((each) => Math.abs(each) > 50).length;
}

/**
 * Mean heart rate from RR intervals, bpm: 60000 / mean RR, beats per time. The mean of 60000 / RR is another,
 * higher number. A strap smooths the rate it sends, so do not subtract the one from the other.
 *
 * @param runs of neighbouring intervals, ms, each more than 0
 * @returns undefined without an interval
 * @example meanRate([[500, 1000]]) // 80
 */
export function meanRate(runs: readonly (readonly number[])[]): number | undefined {
	const all = runs.flat();
	if (all.length === 0) return undefined;
	return (60_000 * all.length) / all.reduce((sum, rrMs) => sum + rrMs, 0);
}

/**
 * All time-domain measures at once, with the reason where they are withheld: under 31 intervals after the
 * correction (own rule), and where fewer than 30 pairs of them are neighbours, RMSSD and NN50. Differences to beats that
 * were put right count like the others (Lipponen & Tarvainen 2019, see `cleanIntervals`). Over 5 % bad beats they are
 * shown with a caution (own rule). Comparable figures need 5 minutes lying or sitting still, always in the same
 * posture: Task Force, Circulation 1996;93:1043-65.
 *
 * @example variabilityOf(cleanIntervals(intervalsOf(readings))).rmssdMs // 42.1
 */
export function variabilityOf({ runs, intervals, artefactShare }: CleanIntervals): Variability {
	const intervalCount = runs.reduce((count, run) => count + run.length, 0);
	if (intervals.length === 0) {
		const reason = 'No RR intervals came: this strap may not send them.';
		return { intervalCount, artefactShare, reasons: [reason] };
	}
	if (intervalCount < leastIntervals) {
		const reason = `Only ${intervalCount} usable RR intervals came, and ${leastIntervals} are needed. Wet the strap, pull it tighter and measure again.`;
		return { intervalCount, artefactShare, reasons: [reason] };
	}
	const mean = meanRate(runs)!;
	const measured: Variability = {
		meanRrMs: 60_000 / mean,
		meanRateBpm: mean,
		sdnnMs: sdnn(runs),
		intervalCount,
		artefactShare,
		reasons: []
	};
	if (intervalCount - runs.length < leastIntervals - 1) {
		measured.reasons.push('Too few RR intervals are neighbours, so RMSSD and NN50 are left out.');
	} else {
		measured.rmssdMs = rmssd(runs);
		measured.nn50 = nn50(runs);
	}
	if (artefactShare! > doubtfulShare) {
		const percent = Math.round(100 * artefactShare!);
		measured.reasons.push(`${percent} % of the beats were bad and put right: take the figures with care.`);
	}
	return measured;
}
