import { fromKg, type WeightUnit } from './fuel-units';
import type { Athlete } from '$lib/record/record-schema';
import type { Units } from './units';

/** The unit that an athlete's weights are shown in: the one chosen for weight and food, else that of all units. */
export function weightUnitOf(athlete: Pick<Athlete, 'weightUnit'>, units: Units): WeightUnit {
	return athlete.weightUnit ?? (units === 'imperial' ? 'lb' : 'kg');
}

/** A picture's axis for weights: its unit in words, where a weight lies on it, and what stands at a value. */
export interface WeightScale {
	words: string;
	ofKg: (kg: number) => number;
	figure: (value: number) => string;
}

/** Stone are drawn in pounds and labelled in both, because half a stone is read as seven pounds and never as 0.5. */
export function weightScale(unit: WeightUnit): WeightScale {
	const decimals = (value: number) => String(Math.round(value * 10) / 10);
	if (unit === 'kg') return { words: 'kg', ofKg: (kg) => kg, figure: decimals };
	const ofKg = (kg: number) => fromKg(kg, 'lb');
	if (unit === 'lb') return { words: 'pounds', ofKg, figure: decimals };
	return {
		words: 'stone and pounds',
		ofKg,
		figure: (pounds) => {
			// Rounded first, so that 14 pounds never stand beside a stone.
			const tenths = Math.round(pounds * 10);
			return `${Math.floor(tenths / 140)} st ${(tenths % 140) / 10}`;
		}
	};
}
