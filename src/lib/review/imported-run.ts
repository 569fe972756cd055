import type { ImportedTrace } from './csv-import';
import type { SessionRecord } from '$lib/record/body';
import { recordVersion } from '$lib/record/check';
import { packReadings } from '$lib/record/columns';
import type { AthleteSnapshot } from '$lib/record/head';
import { thresholdRunPlan } from '$lib/rounds/guided-plans';

/**
 * The moment at which an imported trace began on a day of the calendar here (YYYY-MM-DD), ISO 8601: at its own time of
 * day, or at noon where the file tells none.
 */
export function startedOn(day: string, { startedAt }: Pick<ImportedTrace, 'startedAt'>): string {
	const moment = startedAt === undefined ? new Date(2000, 0, 1, 12) : new Date(startedAt);
	const [year, month, date] = day.split('-').map(Number);
	moment.setFullYear(year!, month! - 1, date);
	return moment.toISOString();
}

/**
 * A threshold run out of an imported trace: what comes before the chosen 20 minutes is its warm-up, what comes
 * after its cool-down.
 *
 * @param fromS second of the trace at which the 20 minutes begin
 */
export function recordOfImport(
	trace: ImportedTrace,
	fromS: number,
	athlete: AthleteSnapshot,
	about: { id: string; startedAt: string; zone: string; fileName: string }
): SessionRecord {
	const { points } = trace;
	const lengthS = Math.ceil(points.at(-1)!.s) + 1;
	const warmUpS = Math.round(fromS);
	const plan = {
		...thresholdRunPlan(warmUpS),
		name: 'Threshold run, recorded elsewhere',
		getReadyS: 0,
		coolDownS: Math.max(0, Math.min(4 * 3600, lengthS - warmUpS - 1260))
	};
	return {
		head: {
			version: recordVersion,
			id: about.id,
			groupId: about.id,
			startedAt: about.startedAt,
			zone: about.zone,
			endedMs: lengthS * 1000,
			plan,
			amendments: [],
			athlete,
			strapName: `Recording ${about.fileName}`.slice(0, 120),
			practice: false,
			events: []
		},
		body: packReadings(
			points.map(({ s, bpm }) => ({
				ms: Math.round(s * 1000),
				bpm: Math.round(bpm),
				contact: 'not supported',
				rrMs: []
			}))
		)
	};
}
