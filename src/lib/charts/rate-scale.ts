/**
 * Where a rate lies on a bar, as a share of its length, 0 to 1: from half of the athlete's threshold to 115 % of it, so
 * that the threshold stands at the same place for everybody; without one, over the rates that hearts have.
 */
export function shareOnBar(bpm: number, thresholdBpm: number | undefined): number {
	const [from, to] = thresholdBpm === undefined ? [50, 210] : [thresholdBpm * 0.5, thresholdBpm * 1.15];
	return Math.min(1, Math.max(0, (bpm - from) / (to - from)));
}
