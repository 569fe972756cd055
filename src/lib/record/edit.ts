import * as v from 'valibot';
import { between, idSchema, instantSchema, shape, wholeBetween } from './check';
import { numberMembers, type AthleteSnapshot } from './head';
import type { Activity, Posture } from '$lib/rounds/plan';
import { activitySchema, postureSchema } from '$lib/rounds/plan-schema';

/** Numbers of an athlete that nobody had noted on the day of a session, as they were then. */
export type ToldLater = Omit<AthleteSnapshot, 'athleteId' | 'name'>;

/**
 * A small later entry beside a record, which itself never changes. Entries are folded in order of `at`;
 * the last writer of a field wins.
 */
export interface RecordEdit {
	/** ISO 8601 in UTC. */
	at: string;
	title?: string;
	note?: string;
	/** How hard it felt, 0 to 10. */
	effort?: number;
	/** How a threshold run ended. */
	feeling?: 'emptied' | 'something left' | 'far too easy';
	/** How far a threshold run was, warm-up left out, km. */
	distanceKm?: number;
	/** How the rests were spent. */
	posture?: Posture;
	/** How hard single rounds felt, 0 to 10, by their number. */
	roundEfforts?: Record<string, number>;
	/** Weight of a glove, ounces. */
	gloveOz?: number;
	partner?: string;
	heat?: 'cool' | 'warm' | 'hot';
	/** Put right: who it was, what was done, by which plan. The record keeps what was noted on the day. */
	athlete?: { id: string; name: string };
	activity?: Activity;
	planName?: string;
	/** Told afterwards, for that day; a later entry replaces all of it. Never in place of what was noted then. */
	told?: ToldLater;
	/** Rests left out of progress, each with its reason; the whole list is replaced by a later one. */
	restsSetAside?: { round: number; reason: string }[];
}

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
