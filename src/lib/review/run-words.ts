import { readsLowBpm, type ThresholdResult } from '$lib/physiology/threshold';
import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import { beats } from './beats';

/** Why a run with rising pace reads low, by how much, and how far this one rose, in sentences. */
export function readsLowWords({ riseBpm }: Pick<ThresholdResult, 'riseBpm'>): string {
	const ends = (basis: ThresholdBasis) => `${readsLowBpm[basis].low} to ${readsLowBpm[basis].high}`;
	const general = `A run with rising pace reads low, because its easy early minutes count. In simulated runs the mean came out ${ends('20-minute mean')} beats under the true threshold, the mean less 5 % ${ends('mean less 5 %')}.`;
	if (riseBpm === undefined || beats(riseBpm) <= 0) return general;
	return `${general} In this run the last five minutes lay ${beats(riseBpm)} beats above the first five.`;
}
