import { isVerySmallFall, smallFallBpm } from './advice';
import { maxHeartRateFromAge } from './max-heart-rate';
import type { RestMeasure } from './recovery';

/** What of a session bears on whether something is out of the ordinary. */
export interface UnusualFacts {
	rests: readonly Pick<RestMeasure, 'bellBpm' | 'drop60' | 'verdict'>[];
	/** Highest believable rate of the session, bpm. */
	peakBpm?: number;
	/** 8 to 100. */
	ageYears?: number;
	/** Highest rate ever measured, bpm. */
	measuredMaxBpm?: number;
}

/** Standard deviations of the age estimate: beyond two lies one person in forty. */
const farErrors = 2;
/** A rate this far above a measured maximum is no better day any more. */
const farAboveMeasuredBpm = 10;

/**
 * What in a session is unusual enough to be said calmly: first as a possible fault of the strap, then as a
 * reason to rest and to ask a doctor. Sentences for the page; none for an ordinary session.
 *
 * - A very small fall in the first minute after a hard round, as it is told live (see `isVerySmallFall`).
 * - A rate more than two standard deviations above the maximum estimated from age (208 - 0.7 age, SD 10:
 *   Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156), or more than 10 bpm above a measured one (own
 *   rule).
 *
 * @example unusualIn({ rests: [], peakBpm: 214, ageYears: 40 })[0] // 'A rate of 214 is far above ...'
 */
export function unusualIn({ rests, peakBpm, ageYears, measuredMaxBpm }: UnusualFacts): string[] {
	const sentences: string[] = [];
	if (rests.some((rest) => isVerySmallFall(rest, ageYears))) {
		sentences.push(
			`The heart fell by ${smallFallBpm(ageYears)} beats or fewer in the minute after a hard round. Look at the trace first: a dry or loose strap does that. If the trace is clean and you feel unwell, or it comes again, rest and ask a doctor.`
		);
	}
	const estimate = ageYears === undefined ? undefined : maxHeartRateFromAge(ageYears);
	const farBpm =
		measuredMaxBpm !== undefined
			? measuredMaxBpm + farAboveMeasuredBpm
			: estimate && estimate.bpm + farErrors * estimate.errorBpm;
	if (peakBpm !== undefined && farBpm !== undefined && peakBpm > farBpm) {
		const known = measuredMaxBpm !== undefined ? 'the measured maximum' : 'what age lets expect';
		sentences.push(
			`A rate of ${Math.round(peakBpm)} is far above ${known}. A strap that slips or dries out makes such rates: check it first. If the pulse at the neck agrees, stop, rest and ask a doctor.`
		);
	}
	return sentences;
}
