import { paperDayWords, paperMomentWords } from './day-words';
import { inLengthWords, inOneLength } from './one-length';
import { inOnePosture, inPostureWords } from './one-posture';
import { likeWords } from './like-words';
import { changeWords, sevenDayMedian } from './change-in-words';
import {
	progressOf,
	titleOf,
	weightsOf,
	type KeptSession,
	type ProgressMeasure,
	type ProgressPoint
} from './progress';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { Summary } from '$lib/record/summary';
import { thresholdWords } from './threshold-words';
import { beats, clockWords, judgedRestWords, meanDropOf } from './words';
import type { WeightScale } from './units';

/** What is compared over weeks, in the order of a report: name, unit, figures after the decimal point. */
export const reportedMeasures: readonly [ProgressMeasure, name: string, unit: string, digits: number][] = [
	['drop at 60', 'Drop at 60', 'beats in the minute', 0],
	['rate at 60', 'Rate after one minute', '% of the threshold', 0],
	['tau', 'Tau', 'seconds', 0],
	['threshold', 'Threshold', 'beats a minute', 0],
	['resting rate', 'Resting rate', 'beats a minute', 0],
	['RMSSD', 'RMSSD', 'ms', 0],
	['weight', 'Weight', '', 1]
];

/** A session in a few lines, to be pasted into a message. What could not be measured says so. */
export function sessionText(
	head: RecordHead,
	edit: Pick<RecordEdit, 'title' | 'planName' | 'note' | 'effort'>,
	summary: Summary
): string {
	const lines = [
		`${titleOf({ head, edit })}, ${paperMomentWords(head.startedAt, head.zone)}`,
		`${head.athlete.name}, ${head.plan.activity}, ${clockWords(head.endedMs)} in all`
	];
	if (head.practice) lines.push('Practice strap: a simulated athlete.');
	lines.push(
		dropLine(summary),
		summary.overS === undefined
			? 'Over threshold: unknown, no threshold is known.'
			: `Over threshold (${thresholdWords(head.athlete)}): ${clockWords(summary.overS * 1000)} of ${clockWords(summary.workS * 1000)} of work.`,
		summary.peakBpm === undefined
			? 'Peak: unknown, no clean signal.'
			: `Peak: ${beats(summary.peakBpm)} beats a minute.`
	);
	if (summary.fade) lines.push(`Round by round: ${summary.fade.trend}.`);
	if (edit.effort !== undefined) lines.push(`How hard it felt: ${edit.effort} of 10.`);
	if (edit.note) lines.push(edit.note);
	lines.push(...summary.unusual);
	return lines.join('\n');
}

function dropLine(summary: Summary): string {
	const { meanDrop60, rounds } = summary;
	if (meanDrop60 === undefined) return `Drop in the minute: unknown, ${meanDropOf(summary)}.`;
	const each = rounds.map(({ rest }) =>
		rest?.drop60 === undefined ? 'not measured' : `${beats(rest.drop60)} ± ${beats(rest.drop60ErrorBpm ?? 0)}`
	);
	return `Drop in the minute: ${beats(meanDrop60)} beats, ${meanDropOf(summary)} (${each.join(', ')}).`;
}

/** What a report says of weight: the athlete's own log, in the athlete's unit. */
export interface ReportedWeight {
	log: readonly { date: string; kg: number }[];
	scale: WeightScale;
}

/** One kind of measurement with all its points, oldest first. */
export interface Reported {
	name: string;
	unit: string;
	digits: number;
	points: ProgressPoint[];
	/** How a value is written. */
	figure: (value: number) => string;
}

/**
 * The measurements of each kind that there are; kinds without one are left out, and weight where it is not
 * given, because it is hidden for that athlete. Resting rate and RMSSD are those of one posture, and tau that of
 * recoveries of one length, which their unit names.
 */
export function reportedPoints(sessions: readonly KeptSession[], weight?: ReportedWeight): Reported[] {
	const resting = inOnePosture(sessions);
	const recovering = inOneLength(sessions);
	return reportedMeasures.flatMap(([measure, name, unit, digits]) => {
		const figure = (value: number) => value.toFixed(digits);
		if (measure !== 'weight') {
			const isResting = measure === 'resting rate' || measure === 'RMSSD';
			const isTau = measure === 'tau';
			const like = isResting ? resting.sessions : isTau ? recovering.sessions : sessions;
			const points = progressOf(like, measure);
			const isOfRests = measure === 'drop at 60' || measure === 'rate at 60';
			const words = isResting
				? inPostureWords(unit, resting)
				: isTau
					? inLengthWords(unit, recovering)
					: isOfRests
						? likeWords(unit, sessions)
						: unit;
			return points.length === 0 ? [] : { name, unit: words, digits, points, figure };
		}
		if (!weight) return [];
		const { log, scale } = weight;
		const points = weightsOf(sessions, log).map((point) => ({ ...point, value: scale.ofKg(point.value) }));
		return points.length === 0 ? [] : { name, unit: scale.words, digits, points, figure: scale.figure };
	});
}

/** An athlete's progress in a few lines, to be pasted into a message. */
export function progressText(
	athleteName: string,
	sessions: readonly KeptSession[],
	weight?: ReportedWeight
): string {
	const [first, last] = [sessions[0], sessions.at(-1)];
	if (!first || !last) return `${athleteName}: no session to compare yet.`;
	const lines = reportedPoints(sessions, weight).map(({ name, unit, points, figure }) => {
		const now = figure(sevenDayMedian(points).at(-1)!.value);
		const { count } = points.at(-1)!;
		const of = count === undefined ? '' : ` The latest is the mean of ${judgedRestWords(count)}.`;
		return `${name}: ${now} ${unit}.${of} ${changeWords(points)}`;
	});
	return [
		`${athleteName}, ${sessions.length} session${sessions.length === 1 ? '' : 's'}, ${paperDayWords(first.head.startedAt)} to ${paperDayWords(last.head.startedAt)}`,
		...lines
	].join('\n');
}
