import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import type { AthleteSnapshot } from '$lib/record/head';
import type { Athlete } from '$lib/record/athlete';
import { beats } from './beats';

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
