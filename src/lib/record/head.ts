import * as v from 'valibot';
import {
	bpmSchema,
	elapsedMs,
	idSchema,
	instantSchema,
	between,
	recordVersion,
	shape,
	wholeBetween
} from './check';
import { longestKeptMs } from './limits';
import { thresholdBases, type ThresholdBasis } from '$lib/physiology/threshold-basis';
import { amendmentKinds, mostAmendments, type Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';
import { planSchema } from '$lib/rounds/plan-schema';

/** The athlete's numbers as they were on the day, so that later changes never rewrite an old session. */
export interface AthleteSnapshot {
	athleteId: string;
	name: string;
	thresholdBpm?: number;
	/** Which reading of a threshold run it is; absent where it was typed or nobody noted it. */
	thresholdBasis?: ThresholdBasis;
	/** A measured maximum, never an estimate. */
	measuredMaxBpm?: number;
	/** This year less the year of birth: true to within a year. */
	ageYears?: number;
	/** Takes medicine that slows the heart, so no verdict is given. */
	slowingMedicine?: true;
	/** Which of the published formulas are used; absent where the athlete prefers not to say. */
	sex?: 'male' | 'female';
	heightCm?: number;
	weightKg?: number;
	restBpm?: number;
	/** Measured, ml/kg/min. */
	vo2max?: number;
}

/** Something that happened to one corner, at `ms` of elapsed time. */
export interface CornerEvent {
	/** `slept`: the computer slept from this moment on; the session paused itself there. */
	kind: 'signal lost' | 'signal back' | 'malformed packet' | 'marker' | 'slept';
	ms: number;
}

/** From `ms` of elapsed time on another strap answered for the corner. */
export interface StrapChange {
	ms: number;
	strapName: string;
	practice: boolean;
	/** It was worn by this athlete all along and answered for another: what came before is another's heart. */
	swapped?: true;
}

/**
 * What lists need of a kept session: everything but the readings. Times are elapsed milliseconds since
 * Start was pressed, pauses included; the wall clock stands only in `startedAt`.
 */
export interface RecordHead {
	version: typeof recordVersion;
	id: string;
	/** Shared by the records of all corners of one session. */
	groupId: string;
	/** ISO 8601 in UTC. */
	startedAt: string;
	/** IANA name of the zone the session took place in. */
	zone: string;
	endedMs: number;
	plan: Plan;
	amendments: Amendment[];
	athlete: AthleteSnapshot;
	/** The strap at the beginning. */
	strapName: string;
	/** Made by the practice strap, if only in part: marked, and kept out of progress. */
	practice: boolean;
	events: CornerEvent[];
	/** The athlete joined in mid-session, at this elapsed ms; absent where they were there at Start. */
	joinedMs?: number;
	/** The athlete left in mid-session, at `endedMs`. */
	left?: true;
	/** The straps that answered after the first, in order; absent where it stayed the same one. */
	strapChanges?: StrapChange[];
	/** Ids of the records of all corners, in the order of the corners; absent where there was one corner. */
	group?: string[];
	/** Invented, with the example gym: shown in progress although the practice strap made it. */
	example?: true;
}

export const amendmentSchema = shape<Amendment>({
	kind: v.picklist(amendmentKinds),
	atMs: elapsedMs
});

export const cornerEventSchema = shape<CornerEvent>({
	kind: v.picklist(['signal lost', 'signal back', 'malformed packet', 'marker', 'slept']),
	ms: elapsedMs
});

const mostStrapChanges = 10_000;

export const strapChangeSchema = shape<StrapChange>({
	ms: elapsedMs,
	strapName: v.string(),
	practice: v.boolean(),
	swapped: v.optional(v.literal(true))
});

export const bodyMembers = {
	sex: v.optional(v.picklist(['male', 'female'])),
	heightCm: v.optional(between(50, 300)),
	weightKg: v.optional(between(10, 400)),
	restBpm: v.optional(bpmSchema),
	vo2max: v.optional(between(5, 120))
};

export const numberMembers = {
	thresholdBpm: v.optional(bpmSchema),
	thresholdBasis: v.optional(v.picklist(thresholdBases)),
	measuredMaxBpm: v.optional(bpmSchema),
	ageYears: v.optional(wholeBetween(0, 130)),
	slowingMedicine: v.optional(v.literal(true)),
	...bodyMembers
};

export const athleteSnapshotSchema = shape<AthleteSnapshot>({
	athleteId: idSchema,
	name: v.string(),
	...numberMembers
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
