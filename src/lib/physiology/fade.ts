import { areSmall, restErrorOf } from './drop-error';
import type { Verdict } from './recovery';
import { studentsT } from './students-t';

/** How the drop at 60 changes from round to round. */
export interface Fade {
	/** Least-squares slope, bpm per round; negative where recovery gets worse. */
	slopeBpm: number;
	/**
	 * Standard error of the slope, bpm per round: that of the fit, or what the rests' own error makes of it,
	 * whichever is larger.
	 */
	slopeErrorBpm: number;
	/** Judged rests it rests on. */
	restCount: number;
	trend: 'fading' | 'coming down further' | 'no clear change';
}

const leastRests = 3;
/** The normal distribution's 97.5 %. */
const clearErrors = 1.96;
/** Student's t takes the same share of its own distribution. */
const clearShare = 0.975;

/**
 * Fade: slope of the drop at 60 over round numbers by ordinary least squares, from three judged rests on. A few
 * drops may lie on a line by chance, so a trend is called one only where it passes two hurdles (own rule): 1.96
 * times the error that the rests' own share of the typical error gives the slope (half the variance of 20 %:
 * Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43), and Student's t (97.5 %, n - 2 degrees of freedom)
 * times the error of the fit. Each alone would let one session without a trend in twenty pass. Drops that are all
 * small are not told apart.
 *
 * @param rests in any order; those not judged are left out
 * @returns undefined under three judged rests or where all are of the same round
 * @example fadeOf(rests)?.slopeBpm // -4
 */
export function fadeOf(
	rests: readonly { round: number; drop60?: number; verdict: Verdict }[]
): Fade | undefined {
	const points: { round: number; drop60: number }[] = [];
	for (const { round, drop60, verdict } of rests) {
		if (verdict !== 'not judged' && drop60 !== undefined) points.push({ round, drop60 });
	}
	const n = points.length;
	if (n < leastRests) return undefined;
	const meanRound = points.reduce((sum, point) => sum + point.round, 0) / n;
	const meanDrop = points.reduce((sum, point) => sum + point.drop60, 0) / n;
	let sxx = 0;
	let sxy = 0;
	for (const { round, drop60 } of points) {
		sxx += (round - meanRound) ** 2;
		sxy += (round - meanRound) * (drop60 - meanDrop);
	}
	if (sxx === 0) return undefined;
	const slopeBpm = sxy / sxx;
	let sse = 0;
	for (const { round, drop60 } of points) sse += (drop60 - meanDrop - slopeBpm * (round - meanRound)) ** 2;
	const fittedError = Math.sqrt(sse / (n - 2) / sxx);
	const leastError = restErrorOf(meanDrop) / Math.sqrt(sxx);
	const isClear =
		Math.abs(slopeBpm) > clearErrors * leastError &&
		Math.abs(slopeBpm) > studentsT(clearShare, n - 2) * fittedError &&
		!areSmall(points.map(({ drop60 }) => drop60));
	const trend = !isClear ? 'no clear change' : slopeBpm < 0 ? 'fading' : 'coming down further';
	return { slopeBpm, slopeErrorBpm: Math.max(fittedError, leastError), restCount: n, trend };
}
