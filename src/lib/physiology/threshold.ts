import type { ThresholdBasis } from './threshold-basis';
import { countOf, isPlausibleBpm, meanOf, type Seconds } from './grid';
import { maxHeartRateFromAge } from './max-heart-rate';
import { countRound } from './over-spells';
import type { OverThreshold, OverThresholdOptions, WorkRound } from './over-threshold';

export interface ThresholdRunOptions {
	/** The run was paused, or the machine slept during it. */
	paused?: boolean;
	/** Highest rate ever measured on this athlete, bpm. */
	measuredMaxBpm?: number;
	/** Used only where there is no measured maximum, 8 to 100. */
	ageYears?: number;
	/** The athlete's answer after the run. */
	feeling?: 'emptied' | 'something left' | 'far too easy';
}

export interface ThresholdResult {
	/** Mean of the 20 minutes less 5 %, bpm, unrounded; undefined where half of it or more is missing. */
	bpm?: number;
	/** The plain mean, bpm, unrounded. */
	meanBpm?: number;
	/** How far the last five minutes lay above the first five, bpm; undefined where either has no reading. */
	riseBpm?: number;
	/** Share of the 1200 entries that have a value, 0 to 1. */
	coverage: number;
	confidence: 'fair' | 'low' | 'none';
	/** Why the confidence is not fair, in sentences for the page. */
	reasons: string[];
}

/**
 * How far under the true threshold each reading of a run with rising pace came out, in beats, on simulated runs whose
 * last minutes were held at the threshold or just over it (tests/physiology/threshold.test.ts): the early minutes
 * are easy, and they count.
 */
export const readsLowBpm: Readonly<Record<ThresholdBasis, { low: number; high: number }>> = {
	'20-minute mean': { low: 1, high: 9 },
	'mean less 5 %': { low: 10, high: 17 }
};

/** Length of the run that is averaged, s. */
export const thresholdRunS = 1200;

const quarterS = thresholdRunS / 4;
const fairCoverage = 0.95;
const leastCoverage = 0.5;
const leastShareOfMax = 0.75;
const greatestShareOfMax = 0.95;

/**
 * Threshold heart rate from a guided 20-minute run, in bpm: the mean less 5 % (common practice in the gym, no
 * source), with the plain mean beside it. Neither is the better one: both read low where the pace rises, by
 * `readsLowBpm`.
 *
 * Error: none is published for a run with rising pace less 5 %. Another test, 30 minutes evenly paced with nothing
 * taken off, lay within a standard error of 8.0 bpm of lactate in 27 runners (McGehee, Tanner, Houmard, J Strength
 * Cond Res 2005;19:553-558): that is how true it is, not how well it repeats. The 5 % comes from cycling power, so the
 * lower line flags more work than the plain mean would. "Anaerobic threshold" is a historical name: supply does not switch there (Faude, Kindermann, Meyer,
 * Sports Med 2009;39:469-490). A running threshold carries over imperfectly to arm work.
 *
 * @param fromS the grid second at which the 20 minutes start, 0 or more
 * @returns no bpm where fewer than half of the seconds have a reading (own rule)
 * @example thresholdFromRun(new Float64Array(1200).fill(170), 0, {}).bpm // 161.5
 */
export function thresholdFromRun(
	seconds: Seconds,
	fromS: number,
	options: ThresholdRunOptions = {}
): ThresholdResult {
	const coverage = countOf(seconds, fromS, fromS + thresholdRunS) / thresholdRunS;
	// The end of the grid may cut the run short; the mean is then over what there is.
	const runEndS = Math.min(fromS + thresholdRunS, seconds.length);
	const meanBpm = meanOf(seconds, fromS, runEndS);
	if (meanBpm === undefined || coverage < leastCoverage) {
		const reason = `Readings cover only ${Math.floor(100 * coverage)} % of the 20 minutes, too few for a threshold. Check the strap and run again.`;
		return { coverage, confidence: 'none', reasons: [reason] };
	}
	const bpm = (95 * meanBpm) / 100;
	const reasons: string[] = [];
	if (coverage < fairCoverage) {
		reasons.push(`Readings cover only ${Math.floor(100 * coverage)} % of the 20 minutes.`);
	}
	if (options.paused) reasons.push('The run was interrupted.');
	const first = meanOf(seconds, fromS, Math.min(fromS + quarterS, runEndS));
	const last = meanOf(seconds, fromS + 3 * quarterS, runEndS);
	const riseBpm = first === undefined || last === undefined ? undefined : last - first;
	if (riseBpm !== undefined && riseBpm <= 0) {
		reasons.push('The last five minutes were no higher than the first five: the pace did not rise.');
	}
	const shareReason = shareOfMaximum(bpm, options);
	if (shareReason) reasons.push(shareReason);
	if (options.feeling === 'emptied') {
		reasons.push('The athlete finished emptied: the rate may be above what can be held.');
	}
	if (options.feeling === 'far too easy') {
		reasons.push('The athlete found it far too easy: the true threshold is likely higher.');
	}
	return { bpm, meanBpm, riseBpm, coverage, confidence: reasons.length > 0 ? 'low' : 'fair', reasons };
}

/** A sentence where the result lies outside 75 to 95 % of the maximum; an estimate gets its error's benefit. */
function shareOfMaximum(bpm: number, options: ThresholdRunOptions): string | undefined {
	const measured = options.measuredMaxBpm;
	let lowestMax: number;
	let highestMax: number;
	let kind: string;
	if (measured !== undefined && isPlausibleBpm(measured)) {
		lowestMax = highestMax = measured;
		kind = 'measured maximum';
	} else {
		const estimate = options.ageYears === undefined ? undefined : maxHeartRateFromAge(options.ageYears);
		if (!estimate) return undefined;
		lowestMax = estimate.bpm - estimate.errorBpm;
		highestMax = estimate.bpm + estimate.errorBpm;
		kind = 'maximum estimated from age, even allowing for its error';
	}
	if (bpm < leastShareOfMax * lowestMax) return `The result is under 75 % of the ${kind}.`;
	if (bpm > greatestShareOfMax * highestMax) return `The result is over 95 % of the ${kind}.`;
	return undefined;
}

/**
 * Time over the threshold, a row a round: entries strictly above the unrounded threshold, in work only, in
 * spells of at least 3 s. Spells are found over the whole round (a gap or a pause ends one) and then split at
 * the closing burst, the last 10 s of the planned work, which is counted apart because it is allowed. An entry
 * belongs to a round, or to a pause, where its middle does, so neighbouring phases share no second. Own rule.
 *
 * For scale: in a simulated bout of 3 x 2 minutes ten boxers spent 219.8 +/- 67.4 s above their second
 * ventilatory threshold (de Lira et al., Open Access J Sports Med 2013;4:175-182).
 *
 * @param thresholdBpm unrounded, more than 0
 * @throws RangeError where the threshold is no such number
 * @example
 * const seconds = new Float64Array(180).fill(172);
 * overThreshold(seconds, [{ startS: 0, endS: 180, plannedEndS: 180 }], 165);
 * // overS 170, burstOverS 10, longestS 170, spells 1
 */
export function overThreshold(
	seconds: Seconds,
	rounds: readonly WorkRound[],
	thresholdBpm: number,
	options: OverThresholdOptions = {}
): OverThreshold[] {
	return rounds.map((round) => countRound(seconds, round, thresholdBpm, options).row);
}
