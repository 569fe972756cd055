import * as v from 'valibot';
import { between, bpmSchema, daySchema, idSchema, instantSchema, shape, wholeBetween } from './check';
import { blowSchema } from './blow';
import { boutSchema } from './bout';
import { lockSchema } from './lock';
import { bodyMembers } from './athlete-numbers';
import { thresholdBases } from '$lib/physiology/threshold-basis';

const sourceSchema = v.picklist(['typed', 'run']);

const datedThresholdSchema = shape({
	bpm: bpmSchema,
	/** Absent where nobody noted it. */
	date: v.optional(daySchema),
	source: v.optional(sourceSchema),
	basis: v.optional(v.picklist(thresholdBases))
});

/** Ways in which body fat is measured; a guess and an estimate from height and weight are none. */
export const fatMethods = [
	'skinfolds',
	'X-ray (DXA)',
	'air displacement',
	'hydrostatic weighing',
	'impedance'
] as const;
const measuredFatSchema = shape({
	percent: between(2, 70),
	day: daySchema,
	method: v.picklist(fatMethods)
});
export type MeasuredFat = v.InferOutput<typeof measuredFatSchema>;

/** Somebody who boxes. Everything but the name may be unknown. Days are YYYY-MM-DD. */
export type Athlete = v.InferOutput<typeof athleteSchema>;

export const athleteSchema = shape({
	id: idSchema,
	name: v.string(),
	birthYear: v.optional(wholeBetween(1900, 2200)),
	thresholdBpm: v.optional(bpmSchema),
	/** The day the threshold was found. */
	thresholdDate: v.optional(daySchema),
	thresholdSource: v.optional(sourceSchema),
	/** Which reading of the run was kept; absent where it was typed or nobody noted it. */
	thresholdBasis: v.optional(v.picklist(thresholdBases)),
	/** A measured maximum, never an estimate. */
	measuredMaxBpm: v.optional(bpmSchema),
	/** Takes medicine that slows the heart, so no verdict is given. */
	slowingMedicine: v.optional(v.literal(true)),
	...bodyMembers,
	bodyFatPercent: v.optional(between(2, 70)),
	/** How and when that was measured: no plan that loses weight stands on anything else. */
	measuredFat: v.optional(measuredFatSchema),
	/** Fuel and weight: what bars a plan, how the day goes, what is shown and in which units. */
	isAdult: v.optional(v.literal(true)),
	pregnant: v.optional(v.literal(true)),
	eatingDisorderHistory: v.optional(v.literal(true)),
	dailyActivity: v.optional(v.picklist(['sitting', 'on your feet', 'heavy work'])),
	weightUnit: v.optional(v.picklist(['kg', 'lb', 'st'])),
	energyUnit: v.optional(v.picklist(['kcal', 'kJ'])),
	hidesFuel: v.optional(v.literal(true)),
	/** Thresholds that held before, oldest first. */
	olderThresholds: v.optional(v.array(datedThresholdSchema)),
	/** The day the resting rate was measured, and how. */
	restDate: v.optional(daySchema),
	restPosture: v.optional(v.picklist(['lying', 'sitting'])),
	/** Every weight that was entered, by day, oldest first. */
	weights: v.optional(v.array(shape({ date: daySchema, kg: between(10, 400) }))),
	weightLimitKg: v.optional(between(10, 400)),
	notes: v.optional(v.string()),
	/** Blows to the head, each with its way back, by day. */
	blows: v.optional(v.array(blowSchema)),
	/** Blows that were entered on another laptop, where their reason has stayed, by day. */
	locks: v.optional(v.array(lockSchema)),
	/** Bouts that are agreed or over, by day. */
	bouts: v.optional(v.array(boutSchema)),
	/**
	 * A day without sparring before it, as pages before the way back kept one; 9999-12-31 where a blow to the head locks,
	 * so that they lock too.
	 */
	noSparringUntil: v.optional(daySchema),
	/** Advertised name of the strap worn last. */
	strapName: v.optional(v.string()),
	/** Groups of the gym that the athlete is in, in its own words: juniors, elite. */
	groups: v.optional(v.array(v.pipe(v.string(), v.maxLength(60)))),
	/** Said for every day at once: what is entered is all training, all food. */
	entersAllTraining: v.optional(v.literal(true)),
	entersAllFood: v.optional(v.literal(true)),
	/** Invented, with the example gym. */
	example: v.optional(v.literal(true)),
	/** When the card was last changed by hand, ISO 8601 in UTC. */
	changedAt: v.optional(instantSchema)
});
