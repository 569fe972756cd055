import * as v from 'valibot';
import {
	bpmSchema,
	elapsedMs,
	idSchema,
	instantSchema,
	between,
	recordVersion,
	shape,
	wholeBetween,
	type MembersOf
} from './check';
import { bodyMembers } from './body-members';
import { longestKeptMs } from './limits';
import { thresholdBases } from '$lib/physiology/threshold-basis';
import { amendmentKinds, mostAmendments, type Amendment } from '$lib/rounds/amendment';
import { planSchema } from '$lib/rounds/plan-schema';

export const amendmentSchema = shape({
	kind: v.picklist(amendmentKinds),
	atMs: elapsedMs
} satisfies MembersOf<Amendment>);

/** Something that happened to one corner, at `ms` of elapsed time. */
export type CornerEvent = v.InferOutput<typeof cornerEventSchema>;

export const cornerEventSchema = shape({
	/** `slept`: the computer slept from this moment on; the session paused itself there. */
	kind: v.picklist(['signal lost', 'signal back', 'malformed packet', 'marker', 'slept']),
	ms: elapsedMs
});

const mostStrapChanges = 10_000;

/** From `ms` of elapsed time on another strap answered for the corner. */
export type StrapChange = v.InferOutput<typeof strapChangeSchema>;

export const strapChangeSchema = shape({
	ms: elapsedMs,
	strapName: v.string(),
	practice: v.boolean(),
	/** This athlete wore it all along, while it answered for another: the readings before `ms` are another's heart. */
	swapped: v.optional(v.literal(true))
});

export const numberMembers = {
	thresholdBpm: v.optional(bpmSchema),
	/** Which reading of a threshold run it is; absent where it was typed or nobody noted it. */
	thresholdBasis: v.optional(v.picklist(thresholdBases)),
	/** A measured maximum, never an estimate. */
	measuredMaxBpm: v.optional(bpmSchema),
	/** This year less the year of birth: true to within a year. */
	ageYears: v.optional(wholeBetween(0, 130)),
	/** Takes medicine that slows the heart, so no verdict is given. */
	slowingMedicine: v.optional(v.literal(true)),
	...bodyMembers
};

/** The athlete's numbers as they were on the day, so that later changes never rewrite an old session. */
export type AthleteSnapshot = v.InferOutput<typeof athleteSnapshotSchema>;

export const athleteSnapshotSchema = shape({
	athleteId: idSchema,
	name: v.string(),
	...numberMembers
});

/**
 * What lists need of a kept session: everything but the readings. Times are elapsed milliseconds since
 * Start was pressed, pauses included; the wall clock stands only in `startedAt`.
 */
export type RecordHead = v.InferOutput<typeof recordHeadSchema>;

export const recordHeadSchema = shape({
	version: v.literal(recordVersion),
	id: idSchema,
	/** Shared by the records of all athletes of one session. */
	groupId: idSchema,
	/** The one wall-clock time of a session, ISO 8601 in UTC, to the millisecond. */
	startedAt: instantSchema,
	/** IANA name of the zone the session took place in. */
	zone: v.string(),
	endedMs: between(0, longestKeptMs),
	plan: planSchema,
	/** Changes to the plan while it ran, in the order in which they happened. */
	amendments: v.pipe(v.array(amendmentSchema), v.maxLength(mostAmendments)),
	/** The athlete's numbers as they were on the day. */
	athlete: athleteSnapshotSchema,
	/** The strap at the beginning. */
	strapName: v.string(),
	/** Made by the simulated practice strap, if only in part: marked, and kept out of progress. */
	practice: v.boolean(),
	events: v.array(cornerEventSchema),
	/** The athlete joined in mid-session, at this elapsed ms; absent where they were there at Start. */
	joinedMs: v.optional(between(0, longestKeptMs)),
	/** The athlete left in mid-session, at `endedMs`. */
	left: v.optional(v.literal(true)),
	/** The straps that answered after the first, in order; absent where it stayed the same one. */
	strapChanges: v.optional(v.pipe(v.array(strapChangeSchema), v.maxLength(mostStrapChanges))),
	/** Ids of the records of all corners, in the order of the corners; absent where there was one corner. */
	group: v.optional(v.array(idSchema)),
	/** Invented, with the example gym: shown in progress although the practice strap made it. */
	example: v.optional(v.literal(true))
});
