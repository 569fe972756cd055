import { paperDayWords, paperMomentWords } from './day-words';
import { titleOf, type KeptSession } from './progress';
import { changeWords, sevenDayMedian } from './change-in-words';
import { measurementsOf, type ReportedWeight } from './progress-pictures';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { Summary } from '$lib/record/summary';
import { thresholdWords } from './threshold-words';
import { beats, clockWords, judgedRestWords, meanDropOf } from './words';

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
	if (head.practice) lines.push('Simulated strap.');
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

/** The measurements of each kind that there are, as a report names them. @see measurementsOf */
export const reportedPoints = (sessions: readonly KeptSession[], weight?: ReportedWeight) =>
	measurementsOf(sessions, weight).filter(({ points }) => points.length > 0);

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
