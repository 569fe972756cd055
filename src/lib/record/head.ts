import * as v from 'valibot';
import {
	elapsedMs,
	idSchema,
	instantSchema,
	between,
	blocksVersion,
	recordVersion,
	shape,
	wholeBetween,
	type MembersOf
} from './check';
import { numberMembers } from './athlete-numbers';
import { longestKeptMs } from './limits';
import { amendmentKinds, blockAmendments, mostAmendments, type Amendment } from '$lib/rounds/amendment';
import { blockSchema, planSchema } from '$lib/rounds/plan-schema';

export const amendmentSchema = shape({
	kind: v.picklist(amendmentKinds),
	atMs: elapsedMs,
	/** What an added block is; absent, one like that which ran. */
	block: v.optional(blockSchema)
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
	swapped: v.optional(v.literal(true)),
	/** At `ms` this athlete put on a strap that another wore before or nobody did, or gave theirs away and wore none after. */
	handOver: v.optional(v.picklist(['put on', 'given away']))
});

/** Rounds of a session, both included. */
export const roundRangeSchema = shape({ from: wholeBetween(1, 1000), to: wholeBetween(1, 1000) });

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
	/** 2 where the session has several blocks, or a strap that changed hands. */
	version: v.picklist([recordVersion, blocksVersion]),
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
	/** The rounds in which the athlete was to wear a strap that several share; absent where it was theirs. */
	turn: v.optional(v.pipe(v.array(roundRangeSchema), v.maxLength(1000))),
	/** Ids of the records of all corners, in the order of the corners; absent where there was one corner. */
	group: v.optional(v.array(idSchema)),
	/** Invented, with the example gym: shown in progress although the practice strap made it. */
	example: v.optional(v.literal(true))
});

/** The form in which a session of this plan, amended in this way and with these straps, is kept. */
export const formOf = (
	{ blocks, handOvers }: Pick<RecordHead['plan'], 'blocks' | 'handOvers'>,
	amendments: readonly Amendment[],
	strapChanges: readonly StrapChange[]
): RecordHead['version'] =>
	blocks ||
	handOvers ||
	strapChanges.some(({ handOver }) => handOver) ||
	amendments.some(({ kind }) => blockAmendments.includes(kind))
		? blocksVersion
		: recordVersion;
