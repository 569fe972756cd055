import { methodsVersion, type RestSummary, type RoundSummary, type Summary } from '$lib/record/summary';
import { AimCounter, type RateRange, type TimeInAim } from '$lib/physiology/aim';
import { fadeOf } from '$lib/physiology/fade';
import { firstIndex } from '$lib/physiology/first-index';
import { coverageOf, meanOf, type Seconds } from '$lib/physiology/grid';
import { measureRest, recoveryFromS } from '$lib/physiology/recovery';
import { fitRecovery, leastRecoveryS, mayShowTau } from '$lib/physiology/recovery-fit';
import { beforeBellS } from '$lib/physiology/rest-taken';
import { overThreshold } from '$lib/physiology/threshold';
import { unusualIn } from '$lib/physiology/unusual';
import type { Aim } from '$lib/rounds/aim';
import { blockOf } from '$lib/rounds/blocks';
import { blocksAfter, timelineOf, type Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { beatsBeforeBellMs, dropFromBeats } from './drop-from-beats';
import { rangeOf } from './aim-of';
import { chiefWork, countingRests } from './drops-by-activity';
import { guidedOf } from './guided-summary';
import { heardIn } from './heard';
import type { MeasuredRecord } from '$lib/record/journal';
import { longestMeasuredMs } from '$lib/record/limits';
import {
	isPausedMiddle,
	lengthS,
	livedIn,
	pausedNearBell,
	secondsOfPhase,
	workedS,
	workRoundOf
} from './phase-times';
import type { RecordHead } from '$lib/record/head';
import { wornIn } from '$lib/record/worn';
import type { SessionRecord } from '$lib/record/body';
import { costsOf } from './session-costs';
import { hardnessOf } from './hard-rounds';

/** The phases that were really lived with a strap on: from joining up to the moment the session ended. */
export function livedPhases(
	head: Pick<RecordHead, 'plan' | 'amendments' | 'joinedMs' | 'strapChanges' | 'endedMs'>
): Phase[] {
	const worn = wornIn(head);
	return timelineOf(head.plan, head.amendments)
		.filter((phase) => phase.startMs < head.endedMs)
		.flatMap((phase) => livedIn(phase, worn) ?? [])
		.map((phase) => ({ ...phase, endMs: Math.min(phase.endMs, head.endedMs) }));
}

/**
 * The readings from `fromMs` on that a rest ending at `endMs` may be read from: those of the strap worn at its end. A drop from
 * one strap's heart to another's would be nobody's.
 */
function ofOneStrap(
	head: RecordHead,
	readings: readonly Reading[],
	fromMs: number,
	endMs: number
): readonly Reading[] {
	const changeMs = head.strapChanges?.findLast(({ ms }) => ms < endMs)?.ms ?? -Infinity;
	// Not a list of all the rest: there may be as many straps as rests, and readings by the hundred thousand.
	return readings.slice(firstAfter(readings, Math.max(changeMs, fromMs)), firstAfter(readings, endMs));
}

const firstAfter = (readings: readonly Reading[], afterMs: number) =>
	firstIndex(readings, ({ ms }) => ms > afterMs);

/**
 * Measures a record: every round, every rest, on the definitions that the Methods screen states.
 *
 * @throws NotMeasurable where the record is longer than anything that is measured
 */
export function summaryOf(record: SessionRecord): Summary {
	const { head } = record;
	assertMeasurable(head);
	const { readings, ignoresContact } = heardIn(record);
	const phases = livedPhases(head);
	const blocks = blocksAfter(head.plan, head.amendments);
	const boxed = phases.filter(({ kind }) => kind === 'work');
	const isAsTold = boxed.every((phase) => blockOf(blocks, phase).activity === head.plan.activity);
	const rounds = phases.flatMap((phase, i): RoundSummary[] => {
		if (phase.kind !== 'work') return [];
		const block = blockOf(blocks, phase);
		const round = roundSummary(head, readings, phases, phase, phases[i + 1], block.aim);
		return [isAsTold ? round : { ...round, activity: block.activity }];
	});
	const { rounds: alike } = chiefWork(rounds);
	const drops = countingRests(alike).flatMap(({ drop60 }) => drop60 ?? []);
	const peaks = rounds.flatMap(({ peakBpm, rest }) =>
		[peakBpm, rest?.peakBpm].filter((bpm) => bpm !== undefined)
	);
	const peakBpm = highestOf(peaks);
	const overs = rounds.flatMap(({ over }) => over ?? []);
	return {
		methodsVersion,
		rounds,
		peakBpm,
		meanDrop60: drops.length > 0 ? drops.reduce((sum, drop) => sum + drop, 0) / drops.length : undefined,
		drop60Count: drops.length,
		lengthS: Math.floor((head.endedMs - (head.joinedMs ?? 0)) / 1000),
		workS: boxed.reduce((sum, phase) => sum + workedS(phase), 0),
		overS: overs.length > 0 ? overs.reduce((sum, over) => sum + over.overS, 0) : undefined,
		fade: fadeOf(
			alike.flatMap(({ round, rest }) => (rest ? { round, drop60: rest.drop60, verdict: rest.verdict } : []))
		),
		costs: costsOf(head, readings, phases, blocks),
		unusual: unusualIn({
			rests: rounds.flatMap(({ rest }) => rest ?? []),
			peakBpm,
			ageYears: head.athlete.ageYears,
			measuredMaxBpm: head.athlete.measuredMaxBpm
		}),
		...(head.plan.kind && { guided: guidedOf(head, readings, phases, rounds) }),
		ignoresContact
	};
}

/** Whatever takes time or room second by second asks first: a wrong clock can make a session of years. */
export function assertMeasurable({ endedMs }: Pick<RecordHead, 'endedMs'>): void {
	if (!(endedMs <= longestMeasuredMs))
		throw new NotMeasurable(
			`It lasts more than ${Math.round(longestMeasuredMs / 86_400_000)} days, which no session does: the clock of the computer was set meanwhile, or the file is wrong.`
		);
}

/** Says in a sentence for people why a record cannot be measured. */
export class NotMeasurable extends Error {
	override readonly name = 'NotMeasurable';
}

/** A record with its summary beside it, ready for the store. One that cannot be measured is kept all the same. */
export function measured(record: SessionRecord): MeasuredRecord {
	try {
		return { ...record, summary: summaryOf(record) };
	} catch {
		return record;
	}
}

/** Not Math.max(...rates): a round of a day and a half has more of them than a call takes arguments. */
function highestOf(rates: Iterable<number>): number | undefined {
	let highest: number | undefined;
	for (const rate of rates) if (highest === undefined || rate > highest) highest = rate;
	return highest;
}

function roundSummary(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	work: Phase,
	next: Phase | undefined,
	aim: Aim | undefined
): RoundSummary {
	const seconds = secondsOfPhase(readings, work);
	const workSeconds = seconds.map((bpm, s) => (isPausedMiddle(work, s) ? NaN : bpm));
	const usable = workSeconds.filter((bpm) => !Number.isNaN(bpm));
	const { thresholdBpm } = head.athlete;
	const range = rangeOf(aim, head.athlete);
	return {
		round: work.round ?? 0,
		attempt: work.attempt ?? 1,
		...(work.block !== undefined && { block: work.block }),
		startMs: work.startMs,
		endMs: work.endMs,
		averageBpm: meanOf(workSeconds, 0, workSeconds.length),
		peakBpm: highestOf(usable),
		coverage: coverageOf(seconds, 0, seconds.length),
		...(range && { aim: timeInAim(seconds, work, range) }),
		over:
			thresholdBpm === undefined ? undefined : overThreshold(seconds, [workRoundOf(work)], thresholdBpm)[0],
		stopped: work.stopped,
		repeated: work.repeated,
		rest:
			next?.kind === 'rest' || next?.kind === 'closing'
				? restSummary(head, readings, phases, next, next.kind)
				: undefined
	};
}

function timeInAim(seconds: Seconds, work: Phase, range: RateRange): TimeInAim {
	const counter = new AimCounter(range);
	const round = workRoundOf(work);
	seconds.forEach((bpm, s) => counter.take(bpm, s, round));
	return counter.time;
}

function restSummary(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	rest: Phase,
	kind: 'rest' | 'closing'
): RestSummary {
	const restS = lengthS(rest);
	// A grid looks back two seconds behind its origin.
	const fromMs = rest.startMs - Math.max(beforeBellS * 1000 + 10_000, beatsBeforeBellMs);
	const ofStrap = ofOneStrap(head, readings, fromMs, rest.endMs);
	const seconds = secondsOfPhase(ofStrap, rest, beforeBellS);
	const measure = measureRest(seconds, beforeBellS, beforeBellS + restS, {
		...hardnessOf(head.athlete),
		slowingMedicine: head.athlete.slowingMedicine,
		paused: pausedNearBell(phases, rest.startMs, rest.endMs)
	});
	const fit =
		restS < leastRecoveryS
			? undefined
			: fitRecovery(seconds, recoveryFromS(beforeBellS, measure.peakLagS), beforeBellS + restS);
	return {
		kind,
		startMs: rest.startMs,
		endMs: rest.endMs,
		...measure,
		dropFromRr60: dropFromBeats(head, ofStrap, phases, rest, restS),
		recovery: fit && mayShowTau(fit, restS) ? fit : undefined
	};
}
