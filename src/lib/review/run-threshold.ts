import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import type { ThresholdResult } from '$lib/physiology/threshold';
import { withThreshold } from '$lib/record/athlete-changes';
import type { Athlete } from '$lib/record/athlete';
import { beats } from './beats';

type Readings = Pick<ThresholdResult, 'bpm' | 'meanBpm'>;

/** A reading in whole beats, as it is shown and kept; undefined where the run told too little. */
function readingOf({ bpm, meanBpm }: Readings, basis: ThresholdBasis): number | undefined {
	const reading = basis === '20-minute mean' ? meanBpm : bpm;
	return reading === undefined ? undefined : beats(reading);
}

/**
 * The athlete with one reading of a run as the threshold, and with which one it is noted.
 *
 * @param day of the run, YYYY-MM-DD
 */
export function withRunThreshold(
	athlete: Athlete,
	run: Readings,
	basis: ThresholdBasis,
	day: string
): Athlete {
	const bpm = readingOf(run, basis);
	return bpm === undefined ? athlete : withThreshold(athlete, bpm, day, 'run', basis);
}

/** Which reading of a run is the athlete's threshold now; undefined where neither is. */
export function takenBasisOf(
	run: Readings,
	{ thresholdBpm, thresholdSource, thresholdBasis }: Athlete
): ThresholdBasis | undefined {
	if (thresholdBpm === undefined || thresholdSource !== 'run') return undefined;
	// Before it was noted, only the mean less 5 % could be kept, and unrounded.
	const basis = thresholdBasis ?? 'mean less 5 %';
	return readingOf(run, basis) === beats(thresholdBpm) ? basis : undefined;
}
