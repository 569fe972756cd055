import type { GuidedSummary, RoundSummary } from '$lib/record/summary';
import { clockWords } from './clock-words';
import { coverageOf } from '$lib/physiology/grid';
import { restingRate } from '$lib/physiology/resting';
import { cleanIntervals, intervalsOf } from '$lib/physiology/rr-intervals';
import { thresholdFromRun, thresholdRunS, type ThresholdResult } from '$lib/physiology/threshold';
import { variabilityOf } from '$lib/physiology/variability';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { heardIn } from './heard';
import { lengthS, secondsOfPhase } from './phase-times';
import { rrGapsOf } from './second-opinion';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';

/** A threshold run with its reasons, as the screens show it. */
export type RunResult = ThresholdResult;

/** Measures a guided session; its summary holds the answer. */
export function guidedOf(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	rounds: readonly RoundSummary[]
): GuidedSummary {
	const kind = head.plan.kind!;
	const { posture } = head.plan;
	const work = phases.findLast((phase) => phase.kind === 'work');
	const none = { kind, posture, reasons: ['The measurement was stopped before it began.'] };
	if (!work) return none;
	if (kind === 'threshold run') {
		const { bpm, meanBpm, coverage, reasons } = runOf(head, readings, work);
		return { kind, posture, thresholdBpm: bpm, meanBpm, coverage, reasons };
	}
	if (kind === 'resting') {
		const seconds = secondsOfPhase(readings, work);
		const rate = restingRate(seconds, 0);
		const quiet = readings.filter(({ ms }) => ms >= work.startMs && ms < work.endMs);
		const intervals = intervalsOf(quiet, rrGapsOf(head.events, work));
		const variability = variabilityOf(cleanIntervals(intervals));
		const isWhole = rate.value !== undefined;
		return {
			kind,
			posture,
			restBpm: rate.value?.bpm,
			rmssdMs: isWhole ? variability.rmssdMs : undefined,
			badBeatShare: variability.artefactShare,
			coverage: coverageOf(seconds, 0, seconds.length),
			reasons: [...(isWhole ? [] : [rate.reason]), ...variability.reasons]
		};
	}
	const rest = rounds.findLast((round) => round.rest?.kind === 'closing')?.rest;
	if (!rest) return { ...none, reasons: ['The check was stopped before its three still minutes.'] };
	return {
		kind,
		posture,
		tauS: rest.recovery?.tauS,
		tauErrorS: rest.recovery?.tauErrorS,
		coverage: rest.coverage,
		reasons: rest.recovery
			? []
			: [
					lengthS(rest) < 180
						? 'The three still minutes were not held to their end, so tau cannot be told.'
						: 'The fall does not follow one curve closely enough, so tau is not shown.'
				]
	};
}

/** The result of a threshold run with the athlete's answers taken into account. */
export function thresholdResultOf(
	record: SessionRecord,
	phases: readonly Phase[],
	feeling: RecordEdit['feeling']
): RunResult | undefined {
	const work = phases.findLast((phase) => phase.kind === 'work');
	return work && runOf(record.head, heardIn(record).readings, work, feeling);
}

function runOf(
	{ athlete }: RecordHead,
	readings: readonly Reading[],
	work: Phase,
	feeling?: RecordEdit['feeling']
): ThresholdResult {
	const ranS = Math.min(thresholdRunS, lengthS(work));
	const seconds = secondsOfPhase(readings, work).subarray(0, ranS);
	const result = thresholdFromRun(seconds, 0, {
		paused: work.pauses.length > 0,
		measuredMaxBpm: athlete.measuredMaxBpm,
		ageYears: athlete.ageYears,
		feeling
	});
	if (ranS >= thresholdRunS) return result;
	return {
		...result,
		reasons: [
			`The run was stopped after ${clockWords(ranS * 1000)} of 20:00: too short to show the rate you could hold to the end.`,
			...result.reasons
		]
	};
}
