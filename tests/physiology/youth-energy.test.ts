import { describe, expect, it } from 'vitest';
import { youthExpenditureKcal, youthNeedOf } from '$lib/physiology/youth-energy';

// National Academies, Dietary Reference Intakes for Energy, 2023, tables 5-5 and 5-6 as they stand in the source of the
// page (constant, then for years, centimetres and kilograms), by hand for 10 years, 140 cm and 35 kg.
describe('the energy of the young', () => {
	it.each([
		['male', 'low active', 19.12 + 36.8 + 1206.8 + 709.8],
		['male', 'active', -388.19 + 36.8 + 1772.4 + 716.1],
		['male', 'very active', -671.75 + 36.8 + 2153.2 + 813.75],
		['female', 'low active', -297.54 - 222.5 + 1787.8 + 515.55],
		['female', 'active', -189.55 - 222.5 + 1643.6 + 641.9],
		['female', 'very active', -709.59 - 222.5 + 2550.8 + 498.75]
	] as const)('of a %s who is %s is %d kcal a day', (sex, level, kcal) => {
		expect(youthExpenditureKcal(sex, 10, 140, 35, level)).toBeCloseTo(kcal, 6);
	});

	it('holds growth and the error of the equation: 25 kcal in boys, 30 in girls, 20 from 14 on', () => {
		const boy = youthNeedOf('male', 10, 140, 35)!;
		expect(boy.value).toBeCloseTo(2137.11 + 25, 6);
		expect(boy.low).toBeCloseTo(1972.52 + 25 - 259, 6);
		expect(boy.high).toBeCloseTo(2332 + 25 + 259, 6);
		const girl = youthNeedOf('female', 10, 140, 35)!;
		expect(girl.value).toBeCloseTo(1873.45 + 30, 6);
		expect(girl.low).toBeCloseTo(1783.31 + 30 - 237, 6);
		expect(girl.high).toBeCloseTo(2117.46 + 30 + 237, 6);

		for (const sex of ['male', 'female'] as const) {
			const spent = youthExpenditureKcal(sex, 14, 160, 50, 'active');
			expect(youthNeedOf(sex, 14, 160, 50)!.value).toBeCloseTo(spent + 20, 6);
		}
	});

	it('is given from 9 years to under 19', () => {
		for (const ageYears of [9, 18, 18.9]) expect(youthNeedOf('male', ageYears, 150, 45)).toBeDefined();
		for (const ageYears of [8.9, 19, NaN]) expect(youthNeedOf('male', ageYears, 150, 45)).toBeUndefined();
	});
});
