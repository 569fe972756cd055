import { hardFrom, type HardnessFacts, type RestOptions } from '$lib/physiology/recovery';
import { readsLowBpm, type ThresholdBasis, type ThresholdResult } from '$lib/physiology/threshold';
import type { AthleteSnapshot } from '$lib/record/head';
import type { Athlete } from '$lib/record/athlete';
import { beats } from './words';

const basisWords: Record<ThresholdBasis, string> = {
	'20-minute mean': '20-minute mean',
	'mean less 5 %': '20-minute mean less 5 %'
};

/** Which of a run's two readings a threshold stands on, or where else it is from. */
export function thresholdBasisWords({
	thresholdBasis,
	thresholdSource
}: Pick<Athlete, 'thresholdBasis' | 'thresholdSource'>): string {
	if (thresholdBasis) return basisWords[thresholdBasis];
	return thresholdSource === 'run' ? 'from a threshold run' : 'typed';
}

/** `thresholdWords({ thresholdBpm: 162, thresholdBasis: '20-minute mean' })` is "162, 20-minute mean". */
export function thresholdWords({
	thresholdBpm,
	thresholdBasis
}: Pick<AthleteSnapshot, 'thresholdBpm' | 'thresholdBasis'>): string | undefined {
	if (thresholdBpm === undefined) return undefined;
	return `${beats(thresholdBpm)}${thresholdBasis ? `, ${basisWords[thresholdBasis]}` : ''}`;
}

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

/** Why a run with rising pace reads low, by how much, and how far this one rose, in sentences. */
export function readsLowWords({ riseBpm }: Pick<ThresholdResult, 'riseBpm'>): string {
	const ends = (basis: ThresholdBasis) => `${readsLowBpm[basis].low} to ${readsLowBpm[basis].high}`;
	const general = `A run with rising pace reads low, because its easy early minutes count. In simulated runs the mean came out ${ends('20-minute mean')} beats under the true threshold, the mean less 5 % ${ends('mean less 5 %')}.`;
	if (riseBpm === undefined || beats(riseBpm) <= 0) return general;
	return `${general} In this run the last five minutes lay ${beats(riseBpm)} beats above the first five.`;
}
