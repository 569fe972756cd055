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

/** Rounded up to tens, for an intake that is a floor: what is shown never lies under it. */
export function atLeastWords(kcal: number, unit: EnergyUnit): string {
	// The allowance keeps a floor of exactly 2410.0000001 from reading 2420.
	return `${(Math.ceil(kcal / kcalPerUnit[unit] / 10 - 1e-6) * 10 + 0).toLocaleString('en')} ${unit}`;
}
