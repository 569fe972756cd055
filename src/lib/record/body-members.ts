import * as v from 'valibot';
import { between, bpmSchema } from './check';

/** What estimates take from a body: on the card, and on each record as it was then. */
export const bodyMembers = {
	/** Which of the published formulas are used; absent where the athlete prefers not to say. */
	sex: v.optional(v.picklist(['male', 'female'])),
	heightCm: v.optional(between(50, 300)),
	weightKg: v.optional(between(10, 400)),
	/** From a resting measurement or typed. */
	restBpm: v.optional(bpmSchema),
	/** Measured, ml/kg/min. */
	vo2max: v.optional(between(5, 120))
};
