import { likeWords } from './like-words';
import { inLengthWords, inOneLength } from './one-length';
import { inOnePosture, inPostureWords } from './one-posture';
import {
	progressOf,
	weightsOf,
	type KeptSession,
	type ProgressMeasure,
	type ProgressPoint
} from './progress';
import type { Athlete } from '$lib/record/athlete';
import { weightScale, weightUnitOf, type Units, type WeightScale } from './units';

/** What is known of an athlete's weight: their own log, in their own unit. */
export interface ReportedWeight {
	log: readonly { date: string; kg: number }[];
	scale: WeightScale;
}

/** Absent where weight is hidden for the athlete. */
export const weightOf = (athlete: Athlete, units: Units): ReportedWeight | undefined =>
	athlete.hidesFuel
		? undefined
		: { log: athlete.weights ?? [], scale: weightScale(weightUnitOf(athlete, units)) };

/** One kind of measurement with all its points, oldest first; none where it was never made. */
export interface Measurement {
	measure: ProgressMeasure;
	name: string;
	/** With what it was compared within: "beats, pads". */
	unit: string;
	/** How it is to be read; empty where it needs no word. */
	note: string;
	/** The entry on the Methods screen. */
	method: string;
	digits: number;
	points: ProgressPoint[];
	/** How a value is written. */
	figure: (value: number) => string;
}

/** In the order of the page and of a report. */
const kinds = [
	{
		measure: 'drop at 60',
		name: '1-minute drop',
		unit: 'beats',
		note: 'Mean of the judged rests of a session. A tired heart can fall faster: the table has effort and load beside it.',
		method: 'drop-60'
	},
	{
		measure: 'rate at 60',
		name: 'Rate after 1 min',
		unit: '% of the threshold',
		note: 'In the same rests; lower means a faster recovery.',
		method: 'change'
	},
	{
		measure: 'tau',
		name: 'Recovery speed',
		unit: 's',
		note: 'From recovery checks; shorter is faster.',
		method: 'recovery-curve'
	},
	{
		measure: 'threshold',
		name: 'Threshold',
		unit: 'beats a minute',
		note: 'From threshold runs.',
		method: 'threshold-run'
	},
	{ measure: 'resting rate', name: 'Resting rate', unit: 'beats a minute', note: '', method: 'resting-rate' },
	{ measure: 'RMSSD', name: 'Beat-to-beat change', unit: 'ms', note: 'At rest.', method: 'rmssd' }
] as const;

const weightKind = {
	measure: 'weight',
	name: 'Weight',
	note: 'One a day, as entered or noted with a session.',
	method: 'weight-median'
} as const;

/**
 * The measurements of each kind, compared like with like: drops of one activity and posture, resting rates of one
 * posture, recovery speeds over one length. Weight is left out where it is not given, because it is hidden for that
 * athlete.
 *
 * @param sessions of one athlete, oldest first
 * @param all those that tell a weight, where `sessions` are a choice of them
 */
export function measurementsOf(
	sessions: readonly KeptSession[],
	weight?: ReportedWeight,
	all: readonly KeptSession[] = sessions
): Measurement[] {
	const resting = inOnePosture(sessions);
	const recovering = inOneLength(sessions);
	const likeOf = (measure: ProgressMeasure, unit: string): [readonly KeptSession[], string] => {
		if (measure === 'tau') return [recovering.sessions, inLengthWords(unit, recovering)];
		if (measure === 'resting rate' || measure === 'RMSSD')
			return [resting.sessions, inPostureWords(unit, resting)];
		return [sessions, measure === 'threshold' ? unit : likeWords(unit, sessions)];
	};
	const found = kinds.map(({ unit, ...kind }): Measurement => {
		const [like, words] = likeOf(kind.measure, unit);
		return {
			...kind,
			unit: words,
			digits: 0,
			points: progressOf(like, kind.measure),
			figure: (value) => String(Math.round(value) || 0)
		};
	});
	if (!weight) return found;
	const { log, scale } = weight;
	const points = weightsOf(all, log).map((point) => ({ ...point, value: scale.ofKg(point.value) }));
	return [...found, { ...weightKind, unit: scale.words, digits: 1, points, figure: scale.figure }];
}
