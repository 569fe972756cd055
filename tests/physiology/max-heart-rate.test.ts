import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { higherMaximum, maxHeartRateFromAge } from '$lib/physiology/max-heart-rate';
import { anyGrid, gridAround, numbersIn, withGaps } from './builders';

describe('maxHeartRateFromAge', () => {
	const bpmBy = (ageYears: number) =>
		Object.fromEntries(maxHeartRateFromAge(ageYears)!.formulas.map(({ formula, bpm }) => [formula, bpm]));

	it('gives the published formulas their values', () => {
		// Fox et al. 1971, Tanaka et al. 2001, Gellish et al. 2007, Gulati et al. 2010, computed for the age of 30.
		const at30 = bpmBy(30);
		expect(at30['220 - age']).toBeCloseTo(190, 9);
		expect(at30['208 - 0.7 age']).toBeCloseTo(187, 9);
		expect(at30['206.9 - 0.67 age']).toBeCloseTo(186.8, 9);
		expect(at30['206 - 0.88 age']).toBeCloseTo(179.6, 9);
		// The first two agree at 40.
		expect(bpmBy(40)['220 - age']).toBeCloseTo(180, 9);
		expect(bpmBy(40)['208 - 0.7 age']).toBeCloseTo(180, 9);
	});

	it('shows a range from the lowest less its error to the highest and its error', () => {
		const woman = maxHeartRateFromAge(30, 'female')!;
		expect(woman).toMatchObject({ bpm: 187, errorBpm: 10, isExtrapolated: false });
		expect(woman.lowBpm).toBeCloseTo(167.6, 9);
		expect(woman.highBpm).toBeCloseTo(202, 9);
		const man = maxHeartRateFromAge(30, 'male')!;
		expect(man.formulas.map(({ formula }) => formula)).not.toContain('206 - 0.88 age');
		expect(man.lowBpm).toBeCloseTo(175.8, 9);
	});

	it('has an error for each formula, and the women’s one for all but men', () => {
		const errors = (sex?: 'female' | 'male') =>
			maxHeartRateFromAge(30, sex)!.formulas.map(({ formula, errorBpm }) => [formula, errorBpm]);
		const ofAll = [
			['208 - 0.7 age', 10],
			['220 - age', 12],
			['206.9 - 0.67 age', 11]
		];
		expect(errors('male')).toEqual(ofAll);
		expect(errors('female')).toEqual([...ofAll, ['206 - 0.88 age', 12]]);
		expect(errors()).toEqual(errors('female'));
	});

	it('holds for 8 to 100 years, of which 18 to 81 were studied', () => {
		expect([7.9, 100.1].map((age) => maxHeartRateFromAge(age))).toEqual([undefined, undefined]);
		expect([8, 17, 18, 81, 82, 100].map((age) => maxHeartRateFromAge(age)?.isExtrapolated)).toEqual([
			true,
			true,
			false,
			false,
			true,
			true
		]);
	});

	it('says where it goes beyond the ages studied, and stops where it knows nothing', () => {
		expect(maxHeartRateFromAge(15)!.isExtrapolated).toBe(true);
		expect([7, 101, NaN, -3].map((age) => maxHeartRateFromAge(age))).toEqual(Array(4).fill(undefined));
	});
});

describe('higherMaximum', () => {
	const sprint = gridAround(30, 30, (t) => Math.round(196 - Math.abs(t)));

	it('offers the highest clean mean of five seconds', () => {
		// 194 195 196 195 194: mean 194.8.
		expect(higherMaximum(sprint, 190)).toBe(195);
	});

	it('offers nothing that does not exceed the maximum on file by a whole beat', () => {
		expect(higherMaximum(sprint, 195)).toBeUndefined();
		expect(higherMaximum(sprint, 194)).toBe(195);
		expect(higherMaximum(new Float64Array(0), 150)).toBeUndefined();
		expect(higherMaximum(sprint, NaN)).toBeUndefined();
	});

	it('does not believe a jump, or a rate beside a gap', () => {
		const jump = gridAround(30, 30, (t) => (t >= 0 && t < 12 ? 220 : 150));
		expect(higherMaximum(jump, 190)).toBeUndefined();
		expect(higherMaximum(withGaps(sprint, [25]), 190)).toBe(193);
		expect(higherMaximum(new Float64Array(14).fill(196), 190)).toBeUndefined();
	});

	it('needs fifteen clean seconds, in which a step of 8 beats is none yet', () => {
		expect(higherMaximum(new Float64Array(15).fill(196), 190)).toBe(196);
		// Five seconds of 196 in the middle of fifteen.
		const stepped = (byBpm: number) =>
			Float64Array.from({ length: 15 }, (_, i) => (i < 5 || i >= 10 ? 196 - byBpm : 196));
		expect(higherMaximum(stepped(8), 190)).toBe(196);
		expect(higherMaximum(stepped(9), 180)).toBeUndefined();
		// The step up comes in the first of the fifteen: before it lies another stretch.
		const after = Float64Array.of(150, ...new Float64Array(15).fill(196));
		expect(higherMaximum(after, 190)).toBe(196);
		expect(higherMaximum(after.subarray(0, 15), 190)).toBeUndefined();
		expect(higherMaximum(Float64Array.of(NaN, ...new Float64Array(15).fill(196)), 190)).toBe(196);
	});

	it('never answers NaN or a rate outside what a heart can do', () => {
		fc.assert(
			fc.property(anyGrid(0, 60), (grid) => {
				const offered = numbersIn(higherMaximum(grid, 100));
				expect(offered.every((bpm) => bpm >= 101 && bpm <= 240)).toBe(true);
			})
		);
	});
});
