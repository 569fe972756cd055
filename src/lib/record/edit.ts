import * as v from 'valibot';
import { between, idSchema, instantSchema, shape, wholeBetween } from './check';
import { numberMembers } from './athlete-numbers';
import { activitySchema, postureSchema } from '$lib/rounds/plan-schema';

/** Numbers of an athlete that nobody had noted on the day of a session, as they were then. */
export type ToldLater = v.InferOutput<typeof toldLaterSchema>;

const toldLaterSchema = shape(numberMembers);

/**
 * A small later entry beside a record, which itself never changes. Entries are folded in order of `at`;
 * the last writer of a field wins.
 */
export type RecordEdit = v.InferOutput<typeof recordEditSchema>;

/** All corrections to one record, folded: the last writer of each field wins. */
export type FoldedEdit = Omit<RecordEdit, 'at'>;

export const recordEditSchema = shape({
	/** ISO 8601 in UTC, to the millisecond. */
	at: instantSchema,
	title: v.optional(v.string()),
	note: v.optional(v.string()),
	/** How hard it felt, 0 to 10. */
	effort: v.optional(between(0, 10)),
	/** How a threshold run ended. */
	feeling: v.optional(v.picklist(['emptied', 'something left', 'far too easy'])),
	/** How far a threshold run was, warm-up left out, km. */
	distanceKm: v.optional(between(0, 100)),
	/** How the rests were spent. */
	posture: v.optional(postureSchema),
	/** How hard single rounds felt, 0 to 10, by their number. */
	roundEfforts: v.optional(v.record(v.pipe(v.string(), v.regex(/^\d{1,4}$/)), between(0, 10))),
	/** Weight of a glove, ounces. */
	gloveOz: v.optional(between(0, 32)),
	partner: v.optional(v.string()),
	heat: v.optional(v.picklist(['cool', 'warm', 'hot'])),
	/** Put right: whose session it was. The record keeps what was noted on the day. */
	athlete: v.optional(v.object({ id: idSchema, name: v.string() })),
	/** Put right: what was done. */
	activity: v.optional(activitySchema),
	/** Put right: by which plan. */
	planName: v.optional(v.string()),
	/**
	 * Numbers of the athlete that were told afterwards, as they were on the day; a later entry replaces all of them. They
	 * count where the head's athlete has none, or where another athlete was put right; then none of the head's count.
	 */
	told: v.optional(toldLaterSchema),
	/** Rests left out of progress, each with its reason; the whole list is replaced by a later one. */
	restsSetAside: v.optional(v.array(v.object({ round: wholeBetween(0, 1000), reason: v.string() })))
});
