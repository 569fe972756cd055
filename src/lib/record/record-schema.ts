import * as v from 'valibot';
import { longestKeptMs } from './limits';
import { plainIssue } from './plain-issue';
import {
	recordVersion,
	type AthleteSnapshot,
	type CornerEvent,
	type RecordEdit,
	type RecordHead,
	type StrapChange,
	type ToldLater
} from './record';
import { allSounds } from '$lib/bell/sound';
import { thresholdBases, type ThresholdBasis } from '$lib/physiology/threshold';
import { amendmentKinds, mostAmendments, type Amendment } from '$lib/rounds/amendment';
import type { Entrant, JournalEntry, SessionStart } from './journal';
import type { BellSettings } from '$lib/bell/settings';
import { activitySchema, planSchema, postureSchema } from '$lib/rounds/plan-schema';

// Bounds here are wider than those of the forms: they keep out what would hang or mislead the page, and a
// value that was accepted when it was typed must stay readable for ever.

/** What a check of something read back came to: the value, or one plain sentence on what is wrong. */
export type Checked<T> = { value: T; problem?: undefined } | { value?: undefined; problem: string };

/** Somebody who boxes. Everything but the name may be unknown. */
export interface Athlete {
	id: string;
	name: string;
	birthYear?: number;
	thresholdBpm?: number;
	/** The day the threshold was found, YYYY-MM-DD. */
	thresholdDate?: string;
	thresholdSource?: 'typed' | 'run';
	/** Which reading of the run was kept; absent where it was typed or nobody noted it. */
	thresholdBasis?: ThresholdBasis;
	/** Thresholds that held before, oldest first. */
	olderThresholds?: DatedThreshold[];
	/** A measured maximum, never an estimate. */
	measuredMaxBpm?: number;
	/** Takes medicine that slows the heart, so no verdict is given. */
	slowingMedicine?: true;
	/** Which of the published formulas are used; absent where the athlete prefers not to say. */
	sex?: 'male' | 'female';
	heightCm?: number;
	weightKg?: number;
	/** From a resting measurement or typed. */
	restBpm?: number;
	/** Measured, ml/kg/min. */
	vo2max?: number;
	bodyFatPercent?: number;
	/** Fuel and weight: what bars a plan, how the day goes, what is shown and in which units. */
	isAdult?: true;
	pregnant?: true;
	eatingDisorderHistory?: true;
	dailyActivity?: 'sitting' | 'on your feet' | 'heavy work';
	weightUnit?: 'kg' | 'lb' | 'st';
	energyUnit?: 'kcal' | 'kJ';
	hidesFuel?: true;
	/** The day the resting rate was measured, YYYY-MM-DD, and how. */
	restDate?: string;
	restPosture?: 'lying' | 'sitting';
	/** Every weight that was entered, by day, oldest first. */
	weights?: { date: string; kg: number }[];
	weightLimitKg?: number;
	notes?: string;
	/** After a blow to the head: no sparring and no fight pace before this day, YYYY-MM-DD. */
	noSparringUntil?: string;
	/** Advertised name of the strap worn last. */
	strapName?: string;
	/** Invented, with the example gym. */
	example?: true;
	/** When the card was last changed by hand, ISO 8601 in UTC. */
	changedAt?: string;
}

export interface DatedThreshold {
	bpm: number;
	/** YYYY-MM-DD; absent where nobody noted it. */
	date?: string;
	source?: 'typed' | 'run';
	basis?: ThresholdBasis;
}

export { planSchema };

/**
 * An object of these members: one that the type has and the schema forgot does not compile. Members that this page does
 * not know were written by a later one: they are carried along.
 */
export function shape<T extends object>(members: { [Name in keyof T]-?: v.GenericSchema<unknown, T[Name]> }) {
	return v.looseObject(members) as unknown as v.GenericSchema<unknown, T>;
}

const between = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.minValue(lowest), v.maxValue(highest));
const wholeBetween = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.integer(), v.minValue(lowest), v.maxValue(highest));

/** Ids become parts of keys, so the slash that divides a key is not in them. */
export const idSchema = v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/, 'this is not an id'));

// Exactly what toISOString writes: one spelling an instant, so that text order is time order.
const instantSchema = v.pipe(
	v.string(),
	v.check((text) => {
		const instant = new Date(text);
		return !Number.isNaN(instant.getTime()) && instant.toISOString() === text;
	}, 'this is not a time in UTC such as 2026-03-01T18:30:00.000Z')
);

const bpmSchema = between(1, 300);
const contactSchema = v.picklist(['not supported', 'no contact', 'contact']);

const elapsedMs = between(-longestKeptMs, longestKeptMs);

const amendmentSchema = shape<Amendment>({
	kind: v.picklist(amendmentKinds),
	atMs: elapsedMs
});

const cornerEventSchema = shape<CornerEvent>({
	kind: v.picklist(['signal lost', 'signal back', 'malformed packet', 'marker', 'slept']),
	ms: elapsedMs
});

const mostStrapChanges = 10_000;

const strapChangeSchema = shape<StrapChange>({
	ms: elapsedMs,
	strapName: v.string(),
	practice: v.boolean(),
	swapped: v.optional(v.literal(true))
});

const bodyMembers = {
	sex: v.optional(v.picklist(['male', 'female'])),
	heightCm: v.optional(between(50, 300)),
	weightKg: v.optional(between(10, 400)),
	restBpm: v.optional(bpmSchema),
	vo2max: v.optional(between(5, 120))
};

const numberMembers = {
	thresholdBpm: v.optional(bpmSchema),
	thresholdBasis: v.optional(v.picklist(thresholdBases)),
	measuredMaxBpm: v.optional(bpmSchema),
	ageYears: v.optional(wholeBetween(0, 130)),
	slowingMedicine: v.optional(v.literal(true)),
	...bodyMembers
};

const athleteSnapshotSchema = shape<AthleteSnapshot>({
	athleteId: idSchema,
	name: v.string(),
	...numberMembers
});

const daySchema = v.pipe(v.string(), v.isoDate());

export const athleteSchema = shape<Athlete>({
	id: idSchema,
	name: v.string(),
	birthYear: v.optional(wholeBetween(1900, 2200)),
	thresholdBpm: v.optional(bpmSchema),
	thresholdDate: v.optional(v.pipe(v.string(), v.isoDate())),
	thresholdSource: v.optional(v.picklist(['typed', 'run'])),
	thresholdBasis: v.optional(v.picklist(thresholdBases)),
	measuredMaxBpm: v.optional(bpmSchema),
	slowingMedicine: v.optional(v.literal(true)),
	...bodyMembers,
	bodyFatPercent: v.optional(between(2, 70)),
	isAdult: v.optional(v.literal(true)),
	pregnant: v.optional(v.literal(true)),
	eatingDisorderHistory: v.optional(v.literal(true)),
	dailyActivity: v.optional(v.picklist(['sitting', 'on your feet', 'heavy work'])),
	weightUnit: v.optional(v.picklist(['kg', 'lb', 'st'])),
	energyUnit: v.optional(v.picklist(['kcal', 'kJ'])),
	hidesFuel: v.optional(v.literal(true)),
	olderThresholds: v.optional(
		v.array(
			shape<DatedThreshold>({
				bpm: bpmSchema,
				date: v.optional(daySchema),
				source: v.optional(v.picklist(['typed', 'run'])),
				basis: v.optional(v.picklist(thresholdBases))
			})
		)
	),
	restDate: v.optional(daySchema),
	restPosture: v.optional(v.picklist(['lying', 'sitting'])),
	weights: v.optional(v.array(v.looseObject({ date: daySchema, kg: between(10, 400) }))),
	weightLimitKg: v.optional(between(10, 400)),
	notes: v.optional(v.string()),
	noSparringUntil: v.optional(daySchema),
	strapName: v.optional(v.string()),
	example: v.optional(v.literal(true)),
	changedAt: v.optional(instantSchema)
});

export const recordHeadSchema = shape<RecordHead>({
	version: v.literal(recordVersion),
	id: idSchema,
	groupId: idSchema,
	startedAt: instantSchema,
	zone: v.string(),
	endedMs: between(0, longestKeptMs),
	plan: planSchema,
	amendments: v.pipe(v.array(amendmentSchema), v.maxLength(mostAmendments)),
	athlete: athleteSnapshotSchema,
	strapName: v.string(),
	practice: v.boolean(),
	events: v.array(cornerEventSchema),
	joinedMs: v.optional(between(0, longestKeptMs)),
	left: v.optional(v.literal(true)),
	strapChanges: v.optional(v.pipe(v.array(strapChangeSchema), v.maxLength(mostStrapChanges))),
	group: v.optional(v.array(idSchema)),
	example: v.optional(v.literal(true))
});

export const recordEditSchema = shape<RecordEdit>({
	at: instantSchema,
	title: v.optional(v.string()),
	note: v.optional(v.string()),
	effort: v.optional(between(0, 10)),
	feeling: v.optional(v.picklist(['emptied', 'something left', 'far too easy'])),
	distanceKm: v.optional(between(0, 100)),
	posture: v.optional(postureSchema),
	roundEfforts: v.optional(v.record(v.pipe(v.string(), v.regex(/^\d{1,4}$/)), between(0, 10))),
	gloveOz: v.optional(between(0, 32)),
	partner: v.optional(v.string()),
	heat: v.optional(v.picklist(['cool', 'warm', 'hot'])),
	athlete: v.optional(v.object({ id: idSchema, name: v.string() })),
	activity: v.optional(activitySchema),
	planName: v.optional(v.string()),
	told: v.optional(shape<ToldLater>(numberMembers)),
	restsSetAside: v.optional(v.array(v.object({ round: wholeBetween(0, 1000), reason: v.string() })))
});

const entrantSchema = shape<Entrant>({
	recordId: idSchema,
	athlete: athleteSnapshotSchema,
	strapName: v.string(),
	practice: v.boolean()
});

export const sessionStartSchema = shape<SessionStart>({
	sessionId: idSchema,
	startedAt: instantSchema,
	zone: v.string(),
	plan: planSchema,
	corners: v.pipe(v.array(entrantSchema), v.minLength(1))
});

const cornerIndex = wholeBetween(0, 99);
const largestRrMs = (0xffff * 1000) / 1024;

export const journalEntrySchema: v.GenericSchema<unknown, JournalEntry> = v.variant('kind', [
	v.object({ kind: v.literal('start'), start: sessionStartSchema }),
	v.object({
		kind: v.literal('reading'),
		corner: cornerIndex,
		ms: elapsedMs,
		bpm: wholeBetween(0, 0xffff),
		contact: contactSchema,
		energyKJ: v.optional(wholeBetween(0, 0xffff)),
		rrMs: v.pipe(v.array(between(0, largestRrMs)), v.maxLength(0xff))
	}),
	v.object({ kind: v.literal('amendment'), amendment: amendmentSchema }),
	v.object({ kind: v.literal('event'), corner: cornerIndex, event: cornerEventSchema }),
	v.object({ kind: v.literal('join'), corner: cornerIndex, ms: elapsedMs, entrant: entrantSchema }),
	v.object({ kind: v.literal('leave'), corner: cornerIndex, ms: elapsedMs }),
	v.object({ kind: v.literal('strap'), corner: cornerIndex, change: strapChangeSchema })
]);

export const bellSettingsSchema = shape<BellSettings>({
	on: v.object(v.entriesFromList(allSounds, v.boolean())),
	volume: between(0, 1),
	levels: v.optional(v.object(v.entriesFromList(allSounds, v.optional(between(0, 1))))),
	saysDrop: v.optional(v.boolean()),
	delayMs: between(0, 5000),
	keepAwake: v.boolean()
});

const longestPlace = 100;

/**
 * Checks something read back from storage or from a file. Never throws. A form newer than this page knows is told apart from a damaged one.
 */
export function check<T>(schema: v.GenericSchema<unknown, T>, value: unknown): Checked<T> {
	const version = typeof value === 'object' && value && 'version' in value ? value.version : undefined;
	if (typeof version === 'number' && version > recordVersion)
		return {
			problem: `It was written by a newer version of this page (form ${version}; this page reads up to ${recordVersion}). Reload the page to update it.`
		};
	const result = v.safeParse(schema, value, { abortEarly: true });
	if (result.success) return { value: result.output };
	const issue = result.issues[0];
	const where = v.getDotPath(issue);
	// A place is made of names that a damaged entry may have of any length.
	const place = where && (where.length > longestPlace ? `${where.slice(0, longestPlace)}…` : where);
	return { problem: `It is damaged${place ? ` at "${place}"` : ''}: ${plainIssue(issue)}.` };
}
