import * as v from 'valibot';
import { between, bpmSchema, wholeBetween } from './check';
import { thresholdBases } from '$lib/physiology/threshold-basis';

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
