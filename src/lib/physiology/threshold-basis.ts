/** The two readings of a run. Either may be kept as the threshold; which one it was stays noted. */
export const thresholdBases = ['20-minute mean', 'mean less 5 %'] as const;
export type ThresholdBasis = (typeof thresholdBases)[number];
