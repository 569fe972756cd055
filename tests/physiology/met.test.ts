import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metEnergyKJ, metOf, type MetActivity } from '$lib/physiology/met';

describe('metOf', () => {
	// 2024 Adult Compendium: Herrmann et al., J Sport Health Sci 2024;13:6-12.
	it.each<[MetActivity, string, number]>([
		['boxing in the ring', '15100', 12.3],
		['bag', '15110', 5.8],
		['bag, 60 blows a minute', '15113', 7.0],
		['bag, 120 blows a minute', '15115', 8.5],
		['bag, 180 blows a minute', '15118', 10.8],
		['sparring', '15120', 7.8],
		['simulated round', '15125', 9.3],
		['skipping rope, moderate', '15551', 11.8],
		['skipping rope, fast', '15550', 12.3],
		['jogging', '12020', 7.5]
	])('reads %s from the compendium: code %s, %s MET', (activity, code, met) => {
		expect(metOf(activity).value).toMatchObject({ code, met });
	});

	it('sets beside it what was measured in boxers', () => {
		// Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359: 43.4 and 41.1 ml/kg/min; 1 MET is 3.5.
		expect(metOf('sparring').value?.alsoMeasured?.met).toBeCloseTo(43.4 / 3.5, 1);
		expect(metOf('pads').value?.met).toBeCloseTo(41.1 / 3.5, 1);
		expect(metOf('pads').value?.code).toBeUndefined();
	});

	it('says that shadow boxing has no value, and borrows none', () => {
		expect(metOf('shadow boxing').value).toBeUndefined();
		expect(metOf('shadow boxing').reason).toMatch(/No published value for shadow boxing/);
	});
});

describe('metEnergyKJ', () => {
	it('is 4.184 kJ a kilogram an hour for one MET', () => {
		expect(metEnergyKJ(1, 60, 1 * 70)).toBeCloseTo(292.88, 10);
		// 9.3 MET for 9 minutes at 75 kg: 9.3 x 4.184 x 75 x 0.15, by hand.
		expect(metEnergyKJ(9.3, 9, 75)).toBeCloseTo(437.751, 10);
	});

	it('adds up over minutes', () => {
		const minutes = fc.integer({ min: 0, max: 300 });
		fc.assert(
			fc.property(minutes, minutes, (a, b) => {
				const apart = metEnergyKJ(7.8, a, 68)! + metEnergyKJ(7.8, b, 68)!;
				expect(metEnergyKJ(7.8, a + b, 68)).toBeCloseTo(apart, 8);
			})
		);
	});

	it('refuses what cannot be', () => {
		const refused = [
			metEnergyKJ(31, 60, 70),
			metEnergyKJ(NaN, 60, 70),
			metEnergyKJ(7, -1, 70),
			metEnergyKJ(7, Infinity, 70),
			metEnergyKJ(7, 60, 700)
		];
		expect(refused).toEqual(refused.map(() => undefined));
	});
});
