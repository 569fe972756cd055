import { paperDayWords, paperMomentWords } from './day-words';
import { doneWords, titleOf, type KeptSession } from './progress';
import { changeWords, sevenDayMedian } from './change-in-words';
import { measurementsOf, type ReportedWeight } from './progress-pictures';
import { reportSections, type Reader } from './report-sections';
import type { ReportedSession } from './reported-session';
import { sessionSentence } from './session-sentence';
import { judgedRestWords } from './mean-words';
import { clockWords } from './clock-words';

/** A report of a session as lines, to be pasted into a message. */
export function sessionText(reader: Reader, report: ReportedSession): string {
	const { head, edit, summary, run, noteAt } = report;
	const sections = reportSections(reader, report).map(({ title, lines }) => `${title}: ${lines.join(' ')}`);
	const written = noteAt === undefined ? '' : `, ${paperDayWords(noteAt)}`;
	return [
		`${titleOf({ head, edit })}, ${paperMomentWords(head.startedAt, head.zone)}`,
		`${head.athlete.name}, ${doneWords({ head, edit, summary })}, ${clockWords(head.endedMs)} in all`,
		sessionSentence(head, summary, run),
		...sections,
		...(edit.note ? [`Note of the coach${written}: ${edit.note}`] : [])
	].join('\n');
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
