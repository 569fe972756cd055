/** Units are for the eye: what is kept and computed stays in kg and kcal. */
export type WeightUnit = 'kg' | 'lb' | 'st';
export type EnergyUnit = 'kcal' | 'kJ';

// The international pound and the thermochemical calorie, both exact.
const kgPerPound = 0.45359237;
const kgPerUnit = { kg: 1, lb: kgPerPound, st: 14 * kgPerPound };
const kcalPerUnit = { kcal: 1, kJ: 1 / 4.184 };

export const toKg = (amount: number, unit: WeightUnit) => amount * kgPerUnit[unit];
export const fromKg = (kg: number, unit: WeightUnit) => kg / kgPerUnit[unit];
export const toKcal = (amount: number, unit: EnergyUnit) => amount * kcalPerUnit[unit];

export function weightWords(kg: number, unit: WeightUnit): string {
	if (unit !== 'st') return `${fromKg(kg, unit).toFixed(1)} ${unit}`;
	const tenths = Math.round((kg / kgPerPound) * 10);
	return `${Math.floor(tenths / 140)} st ${((tenths % 140) / 10).toFixed(1)} lb`;
}

/** Rounded to tens, which is finer than any estimate of energy is true. */
export function energyWords(kcal: number, unit: EnergyUnit): string {
	return `${(Math.round(kcal / kcalPerUnit[unit] / 10) * 10 + 0).toLocaleString('en')} ${unit}`;
}

/** Medium banana of 118 g: USDA SR Legacy, Bananas, raw, 89 kcal in 100 g. */
export const bananaKcal = 105;
