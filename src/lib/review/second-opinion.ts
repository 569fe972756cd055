import { cleanIntervals, intervalsOf, type RrGap } from '$lib/physiology/rr-intervals';
import { thresholdsFromScaling, type ScalingThresholds } from '$lib/physiology/threshold-from-scaling';
import type { Phase } from '$lib/rounds/timeline';
import { heardIn } from './heard';
import type { CornerEvent } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';

/**
 * What the RR intervals of a rising effort say of the threshold, beside what the run says; undefined where no
 * effort took place. Intervals are never joined across a loss of signal or a pause.
 */
export function secondOpinionOf(
	record: SessionRecord,
	phases: readonly Phase[]
): ScalingThresholds | undefined {
	const work = phases.findLast((phase) => phase.kind === 'work');
	if (!work) return undefined;
	const intervals = intervalsOf(heardIn(record).readings, rrGapsOf(record.head.events, work));
	return thresholdsFromScaling(cleanIntervals(intervals), work.startMs, work.endMs);
}

/** Where no two RR intervals of a phase are neighbours: losses of signal, one without an end included, and pauses. */
export function rrGapsOf(events: readonly CornerEvent[], { pauses }: Pick<Phase, 'pauses'>): RrGap[] {
	const gaps: RrGap[] = [];
	for (const { kind, ms } of events) {
		if (kind === 'signal lost') gaps.push({ fromMs: ms, toMs: Infinity });
		const open = gaps.at(-1);
		if (kind === 'signal back' && open) open.toMs = ms;
	}
	return [...gaps, ...pauses];
}
