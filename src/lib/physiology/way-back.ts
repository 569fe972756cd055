import type { Answer } from './answer';
import { maxHeartRateFromAge } from './max-heart-rate';
import type { WayStep } from './way-steps';

export const stepWords: Readonly<Record<WayStep, string>> = {
	'1': 'Everyday activity that does not make symptoms worse. No training',
	'2A': 'Light endurance, to about 55 % of maximum',
	'2B': 'Moderate endurance, to about 70 % of maximum',
	'3': 'Own boxing work alone, without any risk of a blow',
	'4': 'Full effort without contact: bag, pads, drills',
	'5': 'Full practice, sparring included',
	'6': 'Competition'
};

/** Red flags of the recognition tool that belongs to the consensus: any of them is an emergency. */
export const redFlags =
	'Neck pain, double vision, weakness or tingling, a severe or growing headache, a fit, loss of consciousness, getting worse, vomiting, restless or aggressive: call an ambulance at once.';

/** Shares of the maximum of the same consensus. The other steps have none: symptoms and the doctor lead there. */
const shareOfMax: Partial<Record<WayStep, number>> = { '2A': 0.55, '2B': 0.7 };

interface HeartFacts {
	/** Measured, never an estimate. */
	measuredMaxBpm?: number;
	ageYears?: number;
	sex?: 'female' | 'male';
	slowingMedicine?: boolean;
}

/**
 * The rate that a step is not to go over, whole bpm, rounded down. Of a measured maximum, else of the low end of the
 * estimate from age: too low is the safe side.
 *
 * @param ageYears 8 to 100
 * @returns undefined for a step without a share
 * @example stepCeiling('2B', { measuredMaxBpm: 190 }) // { value: 133 }
 */
export function stepCeiling(step: WayStep, facts: HeartFacts): Answer<number> | undefined {
	const share = shareOfMax[step];
	if (share === undefined) return undefined;
	if (facts.slowingMedicine)
		return { reason: 'Medicine slows this heart, so no rate says how hard the work is. The doctor does.' };
	const { measuredMaxBpm, ageYears } = facts;
	const maxBpm =
		measuredMaxBpm ?? (ageYears === undefined ? undefined : maxHeartRateFromAge(ageYears, facts.sex)?.lowBpm);
	if (maxBpm === undefined) return { reason: 'A rate needs a measured maximum or the year of birth.' };
	// 0.55 x 180 is 99.00000000000001 here, and 0.7 x 190 is 132.99999999999997.
	return { value: Math.floor(share * maxBpm + 1e-9) };
}
