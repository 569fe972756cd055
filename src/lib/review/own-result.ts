import { dayOf } from '$lib/record/athlete-changes';
import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import { takenBasisOf, withRunThreshold } from './run-threshold';
import type { Athlete } from '$lib/record/athlete';
import type { RecordEdit } from '$lib/record/edit';
import type { SessionRecord } from '$lib/record/body';
import type { ScalingThresholds } from '$lib/physiology/threshold-from-scaling';
import { thresholdResultOf, type RunResult } from './guided-summary';
import type { Reviewed } from './reviewed';
import { secondOpinionOf } from './second-opinion';
import { livedPhases } from './summary';

/** The result of a guided measurement that an athlete may take for their own. */
type Result = Pick<Reviewed['summary'], 'guided'>;

/** What a threshold run came to, with its reasons; undefined for any other session. */
export function runResultOf(
	{ record }: Pick<Reviewed, 'record'>,
	{ feeling }: Pick<RecordEdit, 'feeling'>
): RunResult | undefined {
	if (record.head.plan.kind !== 'threshold run') return undefined;
	return thresholdResultOf(record, livedPhases(record.head), feeling);
}

/** What the strap's own beats say of a threshold run; undefined for any other session. */
export function opinionOn(
	{ summary }: Pick<Reviewed, 'summary'>,
	raw: SessionRecord
): ScalingThresholds | undefined {
	if (summary.guided?.kind !== 'threshold run') return undefined;
	return secondOpinionOf(raw, livedPhases(raw.head));
}

/** Which result of the measurement the athlete's card has; undefined where it has none. */
export function takenOf(
	owner: Athlete | undefined,
	{ guided }: Result,
	run: RunResult | undefined
): ThresholdBasis | 'resting rate' | undefined {
	if (guided?.kind === 'resting')
		return guided.restBpm !== undefined && owner?.restBpm === guided.restBpm ? 'resting rate' : undefined;
	return run && owner && takenBasisOf(run, owner);
}

/**
 * The card with what the measurement came to; undefined where there is nothing to take.
 *
 * @param basis which reading of a threshold run
 * @param startedAt when the session began, ISO 8601
 */
export function withResult(
	owner: Athlete,
	{ guided }: Result,
	run: RunResult | undefined,
	basis: ThresholdBasis | undefined,
	startedAt: string
): Athlete | undefined {
	const day = dayOf(new Date(startedAt));
	if (run && basis) return withRunThreshold(owner, run, basis, day);
	if (guided?.restBpm === undefined) return undefined;
	if (guided.posture !== 'lying' && guided.posture !== 'sitting') return undefined;
	return { ...owner, restBpm: guided.restBpm, restDate: day, restPosture: guided.posture };
}
