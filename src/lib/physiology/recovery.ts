import { restErrorOf, typicalErrorOf } from './drop-error';
import { isPlausibleBpm, meanOf, type Seconds } from './grid';
import { maxHeartRateFromAge } from './max-heart-rate';
import { beforeBellS, endGraceS, leastInWindow, RestTaken, windowS } from './rest-taken';

/** What the 40 to 60 band says of one rest. */
export type Verdict = 'under the band' | 'in the band' | 'over the band' | 'not judged';

export interface RestOptions {
	/** Bell rate from which a round counts as hard, bpm (see `hardFrom`); without it nothing is judged. */
	hardFromBpm?: number;
	/** What that stands on, in words: "90 % of the threshold of 170". */
	hardBy?: string;
	/** A pause or a sleep of the machine lies between ten seconds before the bell and second 60. */
	paused?: boolean;
	/** The athlete takes medicine that slows the heart. */
	slowingMedicine?: boolean;
}

/** One rest, measured. Rates in bpm, unrounded; undefined where it cannot be measured. */
export interface RestMeasure {
	/** Mean of the last 5 s before the bell. */
	bellBpm?: number;
	/** Mean of seconds 55 to 59 after the bell. */
	rate60?: number;
	/** Bell rate less the mean of seconds 25 to 29; negative where the rate rose. */
	drop30?: number;
	/** Bell rate less the rate at 60. */
	drop60?: number;
	/** Standard error of the drop at 60 between days: 20 % of it, at least 2. */
	drop60ErrorBpm?: number;
	/** Bell rate less the mean of the rest's last 5 s. */
	restDrop?: number;
	/** Highest entry from 10 s before the bell to 20 s after it. */
	peakBpm?: number;
	/** Where the peak lies, s after the bell; often positive, may be negative. */
	peakLagS?: number;
	/** Share of the rest's seconds that have a reading, 0 to 1; undefined for a rest of no length. */
	coverage?: number;
	verdict: Verdict;
	/** Too close to call: an edge of the band lies within the rest's own share of the error, be it from inside. */
	nearEdge: boolean;
	/** Why it is not judged, in a sentence for the page. */
	reason?: string;
}

/** What is known of an athlete as far as it says when a round was hard. */
export interface HardnessFacts {
	/** Threshold heart rate, bpm, unrounded. */
	thresholdBpm?: number;
	/** Highest rate ever measured, bpm. */
	measuredMaxBpm?: number;
	/** 8 to 100. */
	ageYears?: number;
	slowingMedicine?: boolean;
}

/** The band, in whole beats, both ends included (common practice in boxing gyms, no source). */
export const bandBpm = { low: 40, high: 60 } as const;

const peakAfterS = 20;

/**
 * Bell rate from which a round counts as hard enough for its rest to be judged, in bpm: 90 % of the threshold;
 * with none, 80 % of a measured maximum; with only an age, 80 % of the age estimate plus one standard
 * deviation, so that an error of the estimate rather leaves a rest unjudged than judges an easy round. Own
 * rule, adjustable. The estimate is 208 - 0.7 age with SD 10 (Tanaka, Monahan, Seals, J Am Coll Cardiol
 * 2001;37:153-156).
 *
 * @returns undefined where nothing usable is known, and always with medicine that slows the heart
 * @example hardFrom({ thresholdBpm: 170 }) // 153
 */
export function hardFrom(athlete: HardnessFacts): number | undefined {
	const { thresholdBpm, measuredMaxBpm, ageYears } = athlete;
	if (athlete.slowingMedicine) return undefined;
	if (thresholdBpm !== undefined && isPlausibleBpm(thresholdBpm)) return (9 * thresholdBpm) / 10;
	if (measuredMaxBpm !== undefined && isPlausibleBpm(measuredMaxBpm)) return (8 * measuredMaxBpm) / 10;
	const estimate = ageYears === undefined ? undefined : maxHeartRateFromAge(ageYears);
	return estimate && (8 * (estimate.bpm + estimate.errorBpm)) / 10;
}

/**
 * Measures one rest from its bell on: bell rate, drop at 30 and 60 s, drop over the whole rest, peak, and what
 * the 40 to 60 band says. A window of 5 s needs 3 readings, and one that reaches past the rest's end is never
 * read. A drop is shown whenever it can be measured; it is judged, rounded to whole beats, only after a hard
 * round, without pause and medicine.
 *
 * Error: one drop at 60 has a standard error of about 20 % (Bosquet, Gamelin, Berthoin, Int J Sports Med
 * 2008;29:238-43). The band itself is common practice, no source; the windows are our own rule.
 *
 * @param seconds a grid whose origin lies a whole number of seconds, at least 10, before the bell
 * @param bellS the grid second of the bell, a whole number
 * @param restEndS the grid second of the rest's end; a fraction is cut off after 0.05 s of grace
 * @example measureRest(grid, 10, 70, { hardFromBpm: 153 }).verdict // 'in the band'
 */
export function measureRest(
	seconds: Seconds,
	bellS: number,
	restEndS: number,
	options: RestOptions = {}
): RestMeasure {
	const endS = Math.floor(restEndS + endGraceS);
	const taken = new RestTaken();
	for (let i = bellS - beforeBellS; i < Math.min(endS, seconds.length); i++) taken.push(seconds[i] ?? NaN);
	return restMeasureOf(taken, endS - bellS, options);
}

/**
 * The same of a rest taken second by second.
 *
 * @param restS whole seconds from the bell to the rest's end, or to the present while it runs
 * @example restMeasureOf(taken, taken.restS).drop60
 */
export function restMeasureOf(taken: RestTaken, restS: number, options: RestOptions = {}): RestMeasure {
	const { seconds } = taken;
	const meanBefore = (toS: number) =>
		toS <= restS ? meanOf(seconds, beforeBellS + toS - windowS, beforeBellS + toS, leastInWindow) : undefined;
	const bellBpm = meanOf(seconds, beforeBellS - windowS, beforeBellS, leastInWindow);
	const dropTo = (rate: number | undefined) =>
		bellBpm === undefined || rate === undefined ? undefined : bellBpm - rate;
	const rate60 = meanBefore(60);
	const drop60 = dropTo(rate60);
	const peak = peakOf(seconds, beforeBellS, beforeBellS + restS);

	const measure: RestMeasure = {
		bellBpm,
		rate60,
		drop30: dropTo(meanBefore(30)),
		drop60,
		drop60ErrorBpm: drop60 === undefined ? undefined : typicalErrorOf(drop60),
		restDrop: restS >= windowS && taken.restS === restS ? dropTo(taken.lastBpm) : undefined,
		peakBpm: peak?.bpm,
		peakLagS: peak && peak.atS - beforeBellS,
		coverage: restS > 0 ? taken.withReadingS / restS : undefined,
		verdict: 'not judged',
		nearEdge: false
	};
	const reason = whyNotJudged(measure, restS, options);
	if (reason !== undefined || drop60 === undefined) return { ...measure, reason };
	return { ...measure, verdict: verdictOf(drop60), nearEdge: isNearEdge(drop60) };
}

/**
 * Where the recovery curve of a rest begins: the later of peak and bell, as a grid second.
 *
 * @param peakLagS as measured by `measureRest`
 * @example recoveryFromS(10, -4) // 10
 */
export function recoveryFromS(bellS: number, peakLagS: number | undefined): number {
	return bellS + Math.max(0, peakLagS ?? 0);
}

/**
 * Highest entry from 10 s before the bell to 20 s after it, the first of equals: the heart often climbs for some
 * seconds after work has ended.
 *
 * @param endS one past the last grid second that may be read
 * @returns bpm and grid second; undefined without any reading there
 * @example peakOf(grid, 10, 70)?.bpm // 184
 */
export function peakOf(
	seconds: Seconds,
	bellS: number,
	endS: number
): { bpm: number; atS: number } | undefined {
	let peak: { bpm: number; atS: number } | undefined;
	const toS = Math.min(bellS + peakAfterS, endS, seconds.length);
	for (let i = Math.max(0, bellS - beforeBellS); i < toS; i++) {
		const bpm = seconds[i]!;
		if (bpm > (peak?.bpm ?? -Infinity)) peak = { bpm, atS: i };
	}
	return peak;
}

function whyNotJudged(measure: RestMeasure, lengthS: number, options: RestOptions): string | undefined {
	const { hardFromBpm, hardBy } = options;
	if (options.slowingMedicine) return 'Medicine that slows the heart makes the band meaningless.';
	if (lengthS < 60) return 'The rest ended before 60 seconds.';
	if (measure.bellBpm === undefined) return 'Too few readings in the 5 seconds before the bell.';
	if (measure.rate60 === undefined) return 'Too few readings in the 5 seconds before second 60.';
	if (options.paused) return 'The clock was paused, or the computer slept, around this rest.';
	if (hardFromBpm === undefined || !(hardFromBpm > 0)) {
		return 'Add a threshold or a year of birth to judge this rest.';
	}
	if (measure.bellBpm < hardFromBpm) {
		const bell = Math.floor(measure.bellBpm);
		return `The round was not hard enough to judge: ${bell} at the bell, ${Math.ceil(hardFromBpm)} needed${hardBy ? ` (${hardBy})` : ''}.`;
	}
	return undefined;
}

function verdictOf(drop60: number): Verdict {
	const beats = Math.round(drop60);
	if (beats < bandBpm.low) return 'under the band';
	return beats > bandBpm.high ? 'over the band' : 'in the band';
}

/** In whole beats, as the band is judged. */
function isNearEdge(drop60: number): boolean {
	const beats = Math.round(drop60);
	const error = restErrorOf(beats);
	return Math.abs(beats - bandBpm.low) <= error || Math.abs(beats - bandBpm.high) <= error;
}
