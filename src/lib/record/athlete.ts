import * as v from 'valibot';
import { between, bpmSchema, daySchema, idSchema, instantSchema, shape, wholeBetween } from './check';
import { blowSchema, type Blow } from './blow';
import { boutSchema, type Bout } from './bout';
import { bodyMembers } from './head';
import { thresholdBases, type ThresholdBasis } from '$lib/physiology/threshold-basis';

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
	/** How and when that was measured: no plan that loses weight stands on anything else. */
	measuredFat?: MeasuredFat;
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
	/** Blows to the head, each with its way back, by day. */
	blows?: Blow[];
	/** Bouts that are agreed or over, by day. */
	bouts?: Bout[];
	/**
	 * A day without sparring before it, YYYY-MM-DD, as pages before the way back kept one; `heldForOlderPages` where a blow
	 * locks, so that they lock too.
	 */
	noSparringUntil?: string;
	/** Advertised name of the strap worn last. */
	strapName?: string;
	/** Invented, with the example gym. */
	example?: true;
	/** When the card was last changed by hand, ISO 8601 in UTC. */
	changedAt?: string;
}

/** Ways in which body fat is measured; a guess and an estimate from height and weight are none. */
export const fatMethods = [
	'skinfolds',
	'X-ray (DXA)',
	'air displacement',
	'hydrostatic weighing',
	'impedance'
] as const;
const measuredFatSchema = v.looseObject({
	percent: between(2, 70),
	day: daySchema,
	method: v.picklist(fatMethods)
});
export type MeasuredFat = v.InferOutput<typeof measuredFatSchema>;

export interface DatedThreshold {
	bpm: number;
	/** YYYY-MM-DD; absent where nobody noted it. */
	date?: string;
	source?: 'typed' | 'run';
	basis?: ThresholdBasis;
}

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
	measuredFat: v.optional(measuredFatSchema),
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
	blows: v.optional(v.array(blowSchema)),
	bouts: v.optional(v.array(boutSchema)),
	noSparringUntil: v.optional(daySchema),
	strapName: v.optional(v.string()),
	example: v.optional(v.literal(true)),
	changedAt: v.optional(instantSchema)
});
