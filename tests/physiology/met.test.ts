import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { metEnergyKJ, metOf, runningMet, type MetActivity } from '$lib/physiology/met';

describe('metOf', () => {
	// 2024 Adult Compendium: Herrmann et al., J Sport Health Sci 2024;13:6-12.
	it.each<[MetActivity, string, number]>([
		['boxing in the ring', '15100', 12.3],
		['bag', '15110', 5.8],
		['bag, 60 blows a minute', '15113', 7.0],
		['bag, 120 blows a minute', '15115', 8.5],
		['bag, 180 blows a minute', '15118', 10.8],
		['simulated round', '15125', 9.3],
		['skipping rope, moderate', '15551', 11.8],
		['skipping rope, fast', '15550', 12.3]
	])('reads %s from the compendium: code %s, %s MET', (activity, code, met) => {
		expect(metOf(activity).value).toMatchObject({ code, met });
	});

	it('takes what was measured in boxers for sparring and pads, with the compendium beside it', () => {
		// Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359: 43.4 and 41.1 ml/kg/min; 1 MET is 3.5. The
		// compendium has 7.8 for sparring, code 15120, and lists no pads.
		expect(metOf('sparring').value?.met).toBeCloseTo(43.4 / 3.5, 1);
		expect(metOf('sparring').value?.compendium).toMatchObject({ code: '15120', met: 7.8 });
		expect(metOf('pads').value?.met).toBeCloseTo(41.1 / 3.5, 1);
		expect(metOf('pads').value?.compendium).toBeUndefined();
	});

	it('says that shadow boxing has no value, and borrows none', () => {
		expect(metOf('shadow boxing').value).toBeUndefined();
		expect(metOf('shadow boxing').reason).toMatch(/No published value for shadow boxing/);
	});
});

describe('runningMet', () => {
	// 2011 Compendium: Ainsworth et al., Med Sci Sports Exerc 2011;43:1575-81, as copied in open tables.
	it.each([
		[4, 6],
		[5, 8.3],
		[6, 9.8],
		[7, 11],
		[8, 11.8],
		[9, 12.8],
		[10, 14.5],
		[11, 16]
	])('reads %s miles an hour from the compendium: %s MET', (mph, met) => {
		expect(runningMet(mph * 1.609344)).toBeCloseTo(met, 10);
	});

	it('lies within a seventh of an equation of oxygen over the speeds of a threshold run', () => {
		// American College of Sports Medicine, level running: 3.5 + 0.2 ml/kg/min for each m/min (from memory).
		for (let kmPerHour = 9; kmPerHour <= 16; kmPerHour += 0.5) {
			const equation = (3.5 + (0.2 * kmPerHour * 1000) / 60) / 3.5;
			expect(Math.abs(runningMet(kmPerHour)! / equation - 1)).toBeLessThan(1 / 7);
		}
	});

	it('knows nothing of a walk or of a sprint', () => {
		expect([runningMet(6), runningMet(18), runningMet(NaN)]).toEqual([undefined, undefined, undefined]);
	});

	it('never falls with the pace', () => {
		const kmPerHour = fc.double({ min: 6.5, max: 17.5, noNaN: true });
		fc.assert(
			fc.property(kmPerHour, kmPerHour, (one, other) => {
				const slower = runningMet(Math.min(one, other))!;
				expect(runningMet(Math.max(one, other))).toBeGreaterThanOrEqual(slower);
			})
		);
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

	it('takes what is just possible', () => {
		// 30 MET for an hour at 20 kg and at 250 kg, each MET of it 4.184 kJ a kilogram; 0 MET is no energy.
		expect(metEnergyKJ(30, 60, 20)).toBeCloseTo(30 * 4.184 * 20, 8);
		expect(metEnergyKJ(30, 60, 250)).toBeCloseTo(30 * 4.184 * 250, 8);
		expect(metEnergyKJ(0, 60, 70)).toBe(0);
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
