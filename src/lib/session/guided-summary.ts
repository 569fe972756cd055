import { coverageOf, secondsOf } from '$lib/physiology/grid';
import { measureRest, recoveryFromS } from '$lib/physiology/recovery';
import { fitRecovery, mayShowTau } from '$lib/physiology/recovery-fit';
import { restingRate } from '$lib/physiology/resting';
import { cleanIntervals, intervalsOf } from '$lib/physiology/rr-intervals';
import { thresholdFromRun, thresholdRunS, type ThresholdResult } from '$lib/physiology/threshold';
import { variabilityOf } from '$lib/physiology/variability';
import type { PlanKind, Posture } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import { unpackReadings, type Reading } from './columns';
import type { RecordEdit, RecordHead, SessionRecord } from './record';

/** A threshold run with its reasons, as the screens show it. */
export type RunResult = ThresholdResult;

/** What a guided measurement came to; what could not be had is absent, and `reasons` says why. */
export interface GuidedSummary {
	kind: PlanKind;
	posture?: Posture;
	/** Mean of the 20 minutes less 5 %, bpm, unrounded. */
	thresholdBpm?: number;
	meanBpm?: number;
	restBpm?: number;
	rmssdMs?: number;
	tauS?: number;
	tauErrorS?: number;
	/** Of the seconds measured, 0 to 1. */
	coverage?: number;
	reasons: string[];
}

const beforeBellS = 10;

/** Measures a guided session; its summary holds the answer. */
export function guidedOf(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	ignoreContact: boolean
): GuidedSummary {
	const kind = head.plan.kind!;
	const { posture } = head.plan;
	const work = phases.findLast((phase) => phase.kind === 'work');
	const none = { kind, posture, reasons: ['The measurement was stopped before it began.'] };
	if (!work) return none;
	if (kind === 'threshold run') {
		const { bpm, meanBpm, coverage, reasons } = runOf(head, readings, work, ignoreContact);
		return { kind, posture, thresholdBpm: bpm, meanBpm, coverage, reasons };
	}
	if (kind === 'resting') {
		const lengthS = Math.floor((work.endMs - work.startMs) / 1000 + 0.05);
		const seconds = secondsOf(readings, work.startMs, lengthS, { ignoreContact });
		const rate = restingRate(seconds, 0);
		const quiet = readings.filter(({ ms }) => ms >= work.startMs && ms < work.endMs);
		const variability = variabilityOf(cleanIntervals(intervalsOf(quiet, work.pauses, { ignoreContact })));
		const isWhole = rate.value !== undefined;
		return {
			kind,
			posture,
			restBpm: rate.value?.bpm,
			rmssdMs: isWhole ? variability.rmssdMs : undefined,
			coverage: coverageOf(seconds, 0, seconds.length),
			reasons: [...(isWhole ? [] : [rate.reason]), ...variability.reasons]
		};
	}
	const closing = phases.find((phase) => phase.kind === 'closing');
	if (!closing) return { ...none, reasons: ['The check was stopped before its three still minutes.'] };
	const stillS = Math.floor((closing.endMs - closing.startMs) / 1000 + 0.05);
	const originMs = closing.startMs - beforeBellS * 1000;
	const seconds = secondsOf(readings, originMs, beforeBellS + stillS, { ignoreContact });
	const { peakLagS } = measureRest(seconds, beforeBellS, beforeBellS + stillS);
	const fit = fitRecovery(seconds, recoveryFromS(beforeBellS, peakLagS), beforeBellS + stillS);
	const isShown = fit !== undefined && mayShowTau(fit, stillS);
	return {
		kind,
		posture,
		tauS: isShown ? fit.tauS : undefined,
		tauErrorS: isShown ? fit.tauErrorS : undefined,
		coverage: coverageOf(seconds, beforeBellS, seconds.length),
		reasons: isShown
			? []
			: [
					stillS < 180
						? 'The three still minutes were not held to their end, so tau cannot be told.'
						: 'The fall does not follow one curve closely enough, so tau is not shown.'
				]
	};
}

/** The result of a threshold run with the athlete's answers taken into account. */
export function thresholdResultOf(
	{ head, body }: SessionRecord,
	phases: readonly Phase[],
	ignoreContact: boolean,
	feeling: RecordEdit['feeling']
): RunResult | undefined {
	const work = phases.findLast((phase) => phase.kind === 'work');
	return work && runOf(head, unpackReadings(body), work, ignoreContact, feeling);
}

function runOf(
	{ athlete }: RecordHead,
	readings: readonly Reading[],
	work: Phase,
	ignoreContact: boolean,
	feeling?: RecordEdit['feeling']
): ThresholdResult {
	const lengthS = Math.min(thresholdRunS, Math.floor((work.endMs - work.startMs) / 1000 + 0.05));
	const seconds = secondsOf(readings, work.startMs, lengthS, { ignoreContact });
	const result = thresholdFromRun(seconds, 0, {
		paused: work.pauses.length > 0,
		measuredMaxBpm: athlete.measuredMaxBpm,
		ageYears: athlete.ageYears,
		feeling
	});
	if (lengthS >= thresholdRunS) return result;
	const minutes = Math.floor(lengthS / 60);
	return {
		...result,
		reasons: [
			`The run was stopped after ${minutes} of 20 minutes: what it says of a rate held for the whole time is a guess.`,
			...result.reasons
		]
	};
}
