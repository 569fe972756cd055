import type { Answer } from './answer';
import { kJPerKcal } from './resting-expenditure';

/** What a published metabolic equivalent may be looked up for. */
export type MetActivity =
	| 'boxing in the ring'
	| 'bag'
	| 'bag, 60 blows a minute'
	| 'bag, 120 blows a minute'
	| 'bag, 180 blows a minute'
	| 'sparring'
	| 'simulated round'
	| 'pads'
	| 'shadow boxing'
	| 'skipping rope, moderate'
	| 'skipping rope, fast';

/** One activity's metabolic equivalent: its cost as a multiple of 1 kcal a kilogram an hour. */
export interface MetValue {
	met: number;
	/** Code in the compendium; undefined where the value is from a single study. */
	code?: string;
	source: string;
	/** What the compendium says, where a value measured in boxers is taken before it. */
	compendium?: { met: number; code: string; source: string };
}

const compendium = 'Herrmann et al., J Sport Health Sci 2024;13:6-12';
const boxersMeasured = 'Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359';
const listed = (code: string, met: number): MetValue => ({ met, code, source: compendium });

const values: Record<Exclude<MetActivity, 'shadow boxing'>, MetValue> = {
	'boxing in the ring': listed('15100', 12.3),
	bag: listed('15110', 5.8),
	'bag, 60 blows a minute': listed('15113', 7),
	'bag, 120 blows a minute': listed('15115', 8.5),
	'bag, 180 blows a minute': listed('15118', 10.8),
	// 43.4 +/- 5.9 ml/kg/min of oxygen, at 3.5 ml/kg/min to the MET.
	sparring: {
		met: 12.4,
		source: boxersMeasured,
		compendium: { met: 7.8, code: '15120', source: compendium }
	},
	'simulated round': listed('15125', 9.3),
	// 41.1 ml/kg/min; the compendium lists no pads.
	pads: { met: 11.7, source: boxersMeasured },
	'skipping rope, moderate': listed('15551', 11.8),
	'skipping rope, fast': listed('15550', 12.3)
};

/**
 * The published metabolic equivalent of an activity, in MET (1 MET = 1 kcal/kg/h = 4.184 kJ/kg/h, gross), a check
 * on an energy from heart rate that knows nothing of the athlete's heart.
 *
 * Valid for adults of 19 to 59 years. Error: none is printed; values are means of groups, at a pace that may not
 * be this athlete's. How far they may be off shows in sparring: 12.4 (43.4 +/- 5.9 ml/kg/min) measured in boxers,
 * 7.8 in the compendium, which is given beside it. Running is `runningMet`.
 *
 * Sources: for sparring and pads Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359; for all else the 2024
 * Adult Compendium (Herrmann et al., J Sport Health Sci 2024;13:6-12).
 *
 * @returns the reason for shadow boxing, for which no code exists
 * @example metOf('bag').value?.met // 5.8
 */
export function metOf(activity: MetActivity): Answer<MetValue> {
	if (activity === 'shadow boxing') {
		return {
			reason:
				'No published value for shadow boxing exists, and that of another activity would not be its own.'
		};
	}
	return { value: values[activity] };
}

/** Speed in miles an hour, and MET, of the codes 12029 to 12130, level ground. */
const runningCodes = [
	[4, 6],
	[5, 8.3],
	[5.2, 9],
	[6, 9.8],
	[6.7, 10.5],
	[7, 11],
	[7.5, 11.5],
	[8, 11.8],
	[8.6, 12.3],
	[9, 12.8],
	[10, 14.5],
	[11, 16]
] as const;
const kmPerMile = 1.609344;

/**
 * The metabolic equivalent of running on level ground at a speed, straight lines between the speeds listed.
 *
 * Error: none is printed; hills, wind and an uneven pace cost more.
 * Source: 2011 Compendium of Physical Activities (Ainsworth et al., Med Sci Sports Exerc 2011;43:1575-81), codes
 * 12029 to 12130; the values of the 2024 edition for running were not seen.
 *
 * @param kmPerHour 6.44 to 17.70, which are 4 to 11 miles an hour
 * @returns undefined outside this range, where it is a walk or hardly held for long
 * @example runningMet(6 * 1.609344) // 9.8
 */
export function runningMet(kmPerHour: number): number | undefined {
	const mph = kmPerHour / kmPerMile;
	const above = runningCodes.findIndex(([speed]) => speed >= mph);
	const [highMph, highMet] = runningCodes[above] ?? [NaN, NaN];
	const [lowMph, lowMet] = runningCodes[above - 1] ?? [highMph, highMet];
	if (!(mph >= lowMph)) return undefined;
	return highMph === lowMph ? highMet : lowMet + ((highMet - lowMet) * (mph - lowMph)) / (highMph - lowMph);
}

/**
 * Gross energy of an activity from its metabolic equivalent, in kJ: MET x 4.184 x kg x hours. Error and source
 * as for `metOf`.
 *
 * @param met 0 to 30
 * @param minutes 0 or more
 * @param weightKg body mass, 20 to 250
 * @returns undefined outside these ranges
 * @example metEnergyKJ(9.3, 9, 75) // 437.8, a bout of 3 x 3 minutes
 */
export function metEnergyKJ(met: number, minutes: number, weightKg: number): number | undefined {
	if (!(met >= 0 && met <= 30) || !(weightKg >= 20 && weightKg <= 250)) return undefined;
	if (!(minutes >= 0 && minutes < Infinity)) return undefined;
	return (met * kJPerKcal * weightKg * minutes) / 60;
}
