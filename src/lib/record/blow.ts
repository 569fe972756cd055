import * as v from 'valibot';
import { daySchema, instantSchema, shape, wholeBetween } from './check';
import type { Lock } from './lock';
import { waySteps } from '$lib/physiology/way-steps';

/**
 * A blow to the head, on the athlete's card under its day. Neither symptoms nor a diagnosis are kept: they are the
 * doctor's.
 */
export const blowSchema = shape({
	day: daySchema,
	/** The officials' stand-down lasts to this day, which is free again. */
	standDownUntil: v.optional(daySchema),
	/** As the doctor or coach has set it, and since when. */
	step: v.picklist(waySteps),
	since: instantSchema,
	/** The shortest stay in each step, as the federation has it; a day where nobody says. */
	daysPerStep: v.optional(wholeBetween(1, 60)),
	/** By a doctor, for this blow alone. It lapses by no date. */
	clearance: v.optional(
		shape({ by: v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(200)), day: daySchema })
	)
});
export type Blow = v.InferOutput<typeof blowSchema>;

/** A lock as pages before this one know it: their day without sparring, never to come. */
export const heldForOlderPages = '9999-12-31';

/** Whether a doctor has cleared the blow; a clearance from before it is none. */
export const isCleared = ({ clearance, day }: Blow) => clearance !== undefined && clearance.day >= day;

/** The bare lock of a blow. */
export const lockOf = (blow: Blow): Lock => ({
	day: blow.day,
	step: blow.step,
	...(blow.standDownUntil && { standDownUntil: blow.standDownUntil }),
	...(isCleared(blow) && { isCleared: true })
});
