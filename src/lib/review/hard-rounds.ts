import { hardFrom, type HardnessFacts, type RestOptions } from '$lib/physiology/recovery';
import type { AthleteSnapshot } from '$lib/record/head';
import { thresholdWords } from './threshold-words';

/** From which rate at the bell a round is hard for an athlete, and what that stands on; empty where nothing tells. */
export function hardnessOf(athlete: AthleteSnapshot): Pick<RestOptions, 'hardFromBpm' | 'hardBy'> {
	const hardFromBpm = hardFrom(athlete);
	if (hardFromBpm === undefined) return {};
	const isBy = (facts: HardnessFacts) => hardFrom(facts) !== undefined;
	const { thresholdBpm, measuredMaxBpm } = athlete;
	if (isBy({ thresholdBpm }))
		return { hardFromBpm, hardBy: `90 % of the threshold of ${thresholdWords(athlete)}` };
	if (isBy({ measuredMaxBpm })) return { hardFromBpm, hardBy: '80 % of the measured maximum' };
	return { hardFromBpm, hardBy: '80 % of the maximum that the age allows' };
}

/** The same in a sentence; undefined where nothing tells. */
export function hardRoundWords(athlete: AthleteSnapshot): string | undefined {
	const { hardFromBpm, hardBy } = hardnessOf(athlete);
	if (hardFromBpm === undefined) return undefined;
	return `A round counts as hard from ${Math.ceil(hardFromBpm)} beats at the bell: ${hardBy}.`;
}
