import { peakOf, signalGaps, type TracePhase, type TracePoint } from './trace';
import type { SessionPicture } from './trace-chart';

/** What a trace shows beside its readings: spells over the threshold, gaps, the peak. */
export function sessionPicture(
	points: readonly TracePoint[],
	phases: readonly TracePhase[],
	thresholdBpm: number | undefined
): SessionPicture {
	return {
		points,
		phases,
		thresholdBpm,
		spells: thresholdBpm === undefined ? [] : phases.flatMap(({ spells = [] }) => spells),
		gaps: signalGaps(points),
		peak: peakOf(points)
	};
}
