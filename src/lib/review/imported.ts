import type { ImportedTrace } from './csv-import';
import type { SessionRecord } from '$lib/record/body';
import { packReadings } from '$lib/record/columns';
import { formOf, type AthleteSnapshot } from '$lib/record/head';
import { restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import type { Activity, Plan } from '$lib/rounds/plan';
import { longestPartS } from '$lib/rounds/plan-schema';
import { roundsOfTable, type RoundsOfTable } from './formats/rounds-of-table';

/** What somebody says an imported trace is; `fromS` is the second of it at which the measured stretch begins. */
export type ImportedAs =
	| { kind: 'threshold run'; fromS: number }
	| { kind: 'resting'; fromS: number; posture: 'lying' | 'sitting' }
	/** Only of a trace with rounds in it; `activity` where it does not say what was done. */
	| { kind: 'rounds'; activity: Activity };

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

/** The moment in the name of a file that this page has written, ISO 8601; undefined where it holds none. */
export function momentInName(fileName: string): string | undefined {
	const told = /^corner-minute-(\d{4}-\d\d-\d\d)-(\d\d)-(\d\d)-/.exec(fileName);
	const moment = new Date(told ? `${told[1]}T${told[2]}:${told[3]}` : NaN);
	return Number.isNaN(moment.getTime()) ? undefined : moment.toISOString();
}

/**
 * A record out of an imported trace. Of a run and of quiet minutes, what comes before the measured stretch is its warm-up,
 * what comes after its cool-down.
 */
export function recordOfImport(
	trace: ImportedTrace,
	as: ImportedAs,
	athlete: AthleteSnapshot,
	about: { id: string; startedAt: string; zone: string; fileName: string }
): SessionRecord {
	const { points, rounds, isSimulated = false } = trace;
	const firstMs = as.kind === 'rounds' ? (rounds?.firstMs ?? 0) : 0;
	const readings = points.map(({ s, bpm, contact = 'not supported', rrMs = [], energyKJ }) => ({
		ms: firstMs + Math.round(s * 1000),
		bpm: Math.round(bpm),
		contact,
		rrMs: [...rrMs],
		...(energyKJ !== undefined && { energyKJ })
	}));
	const { plan, amendments, endedMs } =
		as.kind === 'rounds'
			? roundsOfTable(rounds?.phases ?? [], readings.at(-1)!.ms, as.activity)
			: oneStretch(as, Math.ceil(points.at(-1)!.s) + 1);
	return {
		head: {
			version: formOf(plan, amendments, []),
			id: about.id,
			groupId: about.id,
			startedAt: about.startedAt,
			zone: about.zone,
			endedMs,
			plan,
			amendments,
			athlete,
			strapName: `Recording ${about.fileName}`.slice(0, 120),
			practice: isSimulated,
			events: []
		},
		body: packReadings(readings)
	};
}

function oneStretch(as: Exclude<ImportedAs, { kind: 'rounds' }>, lengthS: number): RoundsOfTable {
	const warmUpS = Math.round(as.fromS);
	const isRun = as.kind === 'threshold run';
	const of: Plan = isRun ? thresholdRunPlan(warmUpS) : { ...restingPlan(as.posture), warmUpS };
	// A run has the minute after its last bell between itself and the cool-down.
	const measuredS = of.roundS + (isRun ? 60 : 0);
	const plan = {
		...of,
		name: `${isRun ? of.name : `Resting, ${as.posture}`}, recorded elsewhere`,
		getReadyS: 0,
		coolDownS: Math.max(0, Math.min(longestPartS, lengthS - warmUpS - measuredS))
	};
	return { plan, amendments: [], endedMs: lengthS * 1000 };
}
