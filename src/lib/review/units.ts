import type { Athlete } from '$lib/record/athlete';

// Units are for the eye: what is kept and computed stays in kg, cm and kcal.
export type Units = 'metric' | 'imperial';
export type WeightUnit = 'kg' | 'lb' | 'st';
export type EnergyUnit = 'kcal' | 'kJ';

// Exact by definition: the international yard and pound agreement of 1959, and the thermochemical calorie.
const kgPerPound = 0.45359237;
const poundsPerStone = 14;
const cmPerInch = 2.54;
const kgPerUnit = { kg: 1, lb: kgPerPound, st: poundsPerStone * kgPerPound };
const kcalPerUnit = { kcal: 1, kJ: 1 / 4.184 };

export const toKg = (amount: number, unit: WeightUnit) => amount * kgPerUnit[unit];
export const fromKg = (kg: number, unit: WeightUnit) => kg / kgPerUnit[unit];
export const toKcal = (amount: number, unit: EnergyUnit) => amount * kcalPerUnit[unit];

/** The unit that an athlete's weights are shown in: the one chosen for weight and food, else that of all units. */
export function weightUnitOf(athlete: Pick<Athlete, 'weightUnit'>, units: Units): WeightUnit {
	return athlete.weightUnit ?? (units === 'imperial' ? 'lb' : 'kg');
}

/** A weight to the tenth, so that weights in a column line up: `weightWords(75, 'kg')` is "75.0 kg". */
export function weightWords(kg: number, unit: WeightUnit): string {
	if (unit !== 'st') return `${fromKg(kg, unit).toFixed(1)} ${unit}`;
	const { stone, pounds } = inStone(fromKg(kg, 'lb'));
	return `${stone} st ${pounds.toFixed(1)} lb`;
}

/**
 * A weight for whoever has chosen units but no unit of weight, in pounds and in stone:
 * `weightWordsIn('imperial', 75)` is "165.3 lb (11 st 11.3 lb)".
 */
export function weightWordsIn(units: Units, kg: number): string {
	if (units === 'metric') return `${toTenths(kg)} kg`;
	const all = toTenths(fromKg(kg, 'lb'));
	const { stone, pounds } = inStone(all);
	return `${all} lb (${stone} st ${pounds} lb)`;
}

/** A height for the eye: `heightWords(180, 'imperial')` is "5 ft 10.9 in". */
export function heightWords(cm: number, units: Units): string {
	if (units === 'metric') return `${toTenths(cm)} cm`;
	const inches = toTenths(cm / cmPerInch);
	const feet = Math.floor(inches / 12);
	return `${feet} ft ${toTenths(inches - feet * 12)} in`;
}

/** What a form shows for a stored weight, and what it stores for what was typed: kilograms or pounds. */
export const weightField = {
	shown: (kg: number, units: Units) => (units === 'metric' ? kg : toTenths(fromKg(kg, 'lb'))),
	stored: (typed: number, units: Units) => toKg(typed, units === 'metric' ? 'kg' : 'lb')
};

/** The same for a height: centimetres or inches. */
export const heightField = {
	shown: (cm: number, units: Units) => (units === 'metric' ? cm : toTenths(cm / cmPerInch)),
	stored: (typed: number, units: Units) => (units === 'metric' ? typed : typed * cmPerInch)
};

const kmPerMile = 1.609344;

/** The same for a distance: kilometres or miles. */
export const distanceField = {
	shown: (km: number, units: Units) => (units === 'metric' ? km : Math.round((km / kmPerMile) * 100) / 100),
	stored: (typed: number, units: Units) => (units === 'metric' ? typed : typed * kmPerMile)
};

/** Rounded to tens, which is finer than any estimate of energy is true. */
export function energyWords(kcal: number, unit: EnergyUnit): string {
	return `${(Math.round(kcal / kcalPerUnit[unit] / 10) * 10 + 0).toLocaleString('en')} ${unit}`;
}

/** Rounded up to tens, for an intake that is a floor: what is shown never lies under it. */
export function atLeastWords(kcal: number, unit: EnergyUnit): string {
	// The allowance keeps a floor of exactly 2410.0000001 from reading 2420.
	return `${(Math.ceil(kcal / kcalPerUnit[unit] / 10 - 1e-6) * 10 + 0).toLocaleString('en')} ${unit}`;
}

/** A picture's axis for weights: its unit in words, where a weight lies on it, and what stands at a value. */
export interface WeightScale {
	words: string;
	ofKg: (kg: number) => number;
	figure: (value: number) => string;
}

/** Stone are drawn in pounds and labelled in both, because half a stone is read as seven pounds and never as 0.5. */
export function weightScale(unit: WeightUnit): WeightScale {
	const figure = (value: number) => String(toTenths(value));
	if (unit === 'kg') return { words: 'kg', ofKg: (kg) => kg, figure };
	const ofKg = (kg: number) => fromKg(kg, 'lb');
	if (unit === 'lb') return { words: 'pounds', ofKg, figure };
	return {
		words: 'stone and pounds',
		ofKg,
		figure: (value) => {
			const { stone, pounds } = inStone(value);
			return `${stone} st ${pounds}`;
		}
	};
}

/** Pounds as whole stone and the pounds beside them, to the tenth. Rounded first: 14 pounds never stand beside a stone. */
function inStone(pounds: number): { stone: number; pounds: number } {
	const tenths = Math.round(pounds * 10);
	return {
		stone: Math.floor(tenths / (10 * poundsPerStone)),
		pounds: (tenths % (10 * poundsPerStone)) / 10
	};
}

const toTenths = (value: number) => Math.round(value * 10) / 10;
