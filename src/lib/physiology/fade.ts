import type { Verdict } from './recovery';

/** How the drop at 60 changes from round to round. */
export interface Fade {
	/** Least-squares slope, bpm per round; negative where recovery gets worse. */
	slopeBpm: number;
	/** Standard error of the slope, bpm per round. */
	slopeErrorBpm: number;
	/** Judged rests it rests on. */
	restCount: number;
	trend: 'fading' | 'coming down further' | 'no clear fade';
}

const leastRests = 3;
const clearErrors = 2;

/**
 * Fade: slope of the drop at 60 over round numbers by ordinary least squares, from three judged rests on, with
 * its standard error on n - 2 degrees of freedom. It is called clear only beyond 2 errors (own rule), which
 * with three rests is a weak claim: one drop alone has an error of about 20 % (Bosquet, Gamelin, Berthoin, Int
 * J Sports Med 2008;29:238-43).
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
	const slopeErrorBpm = Math.sqrt(sse / (n - 2) / sxx);
	const isClear = Math.abs(slopeBpm) > clearErrors * slopeErrorBpm;
	const trend = !isClear ? 'no clear fade' : slopeBpm < 0 ? 'fading' : 'coming down further';
	return { slopeBpm, slopeErrorBpm, restCount: n, trend };
}
