import { paperDayWords, paperMomentWords } from './day-words';
import { inLengthWords, inOneLength } from './one-length';
import { inOnePosture, inPostureWords } from './one-posture';
import { likeWords } from './like-words';
import {
	changeWords,
	progressOf,
	sevenDayMedian,
	titleOf,
	weightsOf,
	type KeptSession,
	type ProgressMeasure,
	type ProgressPoint
} from './progress';
import { reportSections, type Reader } from './report-sections';
import type { ReportedSession } from './reported-session';
import { sessionSentence } from './session-sentence';
import { clockWords, judgedRestWords } from './words';
import type { WeightScale } from './units';

/** What is compared over weeks, in the order of a report: name, unit, figures after the decimal point. */
export const reportedMeasures: readonly [ProgressMeasure, name: string, unit: string, digits: number][] = [
	['drop at 60', '1-minute drop', 'beats', 0],
	['rate at 60', 'After 1 min', '% of the threshold', 0],
	['tau', 'Recovery speed', 's', 0],
	['threshold', 'Threshold', 'beats a minute', 0],
	['resting rate', 'Resting rate', 'beats a minute', 0],
	['RMSSD', 'Beat-to-beat change', 'ms', 0],
	['weight', 'Weight', '', 1]
];

/** A report of a session as lines, to be pasted into a message. */
export function sessionText(reader: Reader, report: ReportedSession): string {
	const { head, edit, summary, run, noteAt } = report;
	const sections = reportSections(reader, report).map(({ title, lines }) => `${title}: ${lines.join(' ')}`);
	const written = noteAt === undefined ? '' : `, ${paperDayWords(noteAt)}`;
	return [
		`${titleOf({ head, edit })}, ${paperMomentWords(head.startedAt, head.zone)}`,
		`${head.athlete.name}, ${head.plan.activity}, ${clockWords(head.endedMs)} in all`,
		sessionSentence(head, summary, run),
		...sections,
		...(edit.note ? [`Note of the coach${written}: ${edit.note}`] : [])
	].join('\n');
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
 * given, because it is hidden for that athlete. Resting rate and beat-to-beat change are those of one posture, and
 * recovery speed that of recoveries of one length, which their unit names.
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
