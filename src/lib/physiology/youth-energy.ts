import type { Range } from './range';

const boys = {
	'low active': [19.12, 3.68, 8.62, 20.28],
	active: [-388.19, 3.68, 12.66, 20.46],
	'very active': [-671.75, 3.68, 15.38, 23.25]
} as const;
const girls = {
	'low active': [-297.54, -22.25, 12.77, 14.73],
	active: [-189.55, -22.25, 11.74, 18.34],
	'very active': [-709.59, -22.25, 18.22, 14.25]
} as const;
const errorKcal = { male: 259, female: 237 };
const growthKcal = (sex: 'female' | 'male', ageYears: number) =>
	ageYears >= 14 ? 20 : sex === 'male' ? 25 : 30;

/**
 * Total energy expenditure of the young by a doubly labelled water equation, kcal a day, growth not included:
 * constant + a age (years) + b height (cm) + c body mass (kg). Root mean square error 259 kcal in boys, 237 in
 * girls. Source: National Academies, Dietary Reference Intakes for Energy, 2023, tables 5-5 and 5-6.
 *
 * @param ageYears 3 to 18
 * @example youthExpenditureKcal('male', 8.7, 134, 37.1, 'active') // 2099, as printed in table 5-8
 */
export function youthExpenditureKcal(
	sex: 'female' | 'male',
	ageYears: number,
	heightCm: number,
	weightKg: number,
	level: keyof typeof boys
): number {
	const [constant, perYear, perCm, perKg] = (sex === 'male' ? boys : girls)[level];
	return constant + perYear * ageYears + perCm * heightCm + perKg * weightKg;
}

/**
 * Energy need of somebody from 9 to 18 years, growth and training included, kcal a day: the figure for an active
 * day, from a low active one less the equation's error to a very active one plus it.
 *
 * @returns undefined outside 9 to 18 years
 * @example youthNeedOf('male', 14, 164, 51)?.value // 2803
 */
export function youthNeedOf(
	sex: 'female' | 'male',
	ageYears: number,
	heightCm: number,
	weightKg: number
): Range | undefined {
	if (!(ageYears >= 9 && ageYears < 19)) return undefined;
	const at = (level: keyof typeof boys) =>
		youthExpenditureKcal(sex, ageYears, heightCm, weightKg, level) + growthKcal(sex, ageYears);
	const all = [at('low active'), at('active'), at('very active')];
	return {
		low: Math.min(...all) - errorKcal[sex],
		value: at('active'),
		high: Math.max(...all) + errorKcal[sex]
	};
}
