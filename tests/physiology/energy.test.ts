import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { energyOf, type EnergyFacts } from '$lib/physiology/energy';
import type { EnergyActivity } from '$lib/physiology/energy-regression';
import { anyGrid, numbersIn } from './builders';

const man: EnergyFacts = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30, measuredMaxBpm: 190 };
const woman: EnergyFacts = { sex: 'female', weightKg: 60, heightCm: 165, ageYears: 30, measuredMaxBpm: 190 };
const boxing = { activity: 'bag' } as const;
const running = { activity: 'running' } as const;

const minutes = (count: number, bpm: number) => new Float64Array(60 * count).fill(bpm);

const anyActivity = fc.constantFrom<EnergyActivity>('bag', 'pads', 'running', 'other');
const anyAthlete: fc.Arbitrary<EnergyFacts> = fc.record({
	sex: fc.constantFrom<'female' | 'male'>('female', 'male'),
	weightKg: fc.integer({ min: 30, max: 150 }),
	heightCm: fc.option(fc.integer({ min: 130, max: 210 }), { nil: undefined }),
	ageYears: fc.integer({ min: 10, max: 80 }),
	vo2Max: fc.option(fc.integer({ min: 20, max: 85 }), { nil: undefined })
});

describe('energyOf', () => {
	it('is the regression for a steady runner, gross', () => {
		// Keytel et al., J Sports Sci 2005;23:289-297: 60.4991 and 41.3198 kJ/min (computed).
		expect(energyOf(minutes(10, 150), man, running).value?.grossKJ).toBeCloseTo(604.991, 8);
		expect(energyOf(minutes(10, 150), woman, running).value?.grossKJ).toBeCloseTo(413.198, 8);
	});

	it('takes resting expenditure off for the net', () => {
		// 1730 kcal a day (Mifflin et al. 1990) are 1730 x 4.184 / 1440 = 5.02661 kJ/min.
		const { value } = energyOf(minutes(10, 150), man, running);
		expect(value?.restingKJ).toBeCloseTo(50.2661, 4);
		expect(value?.netKJ).toBeCloseTo(604.991 - 50.2661, 4);
		expect(value).toMatchObject({ restingMethod: 'Mifflin-St Jeor', method: 'Keytel', cautions: [] });
	});

	// Shares of the regression and the middle of them are the page's own rule, no source.
	it.each<[EnergyActivity, number, number]>([
		['bag', 0.65, 1],
		['shadow boxing', 0.65, 1],
		['pads', 0.8, 1.3],
		['sparring', 0.8, 1.3],
		['running', 0.85, 1.15],
		['other', 0.65, 1.3]
	])('ranges for %s from %s to %s of the regression, the figure in the middle', (activity, low, high) => {
		const { value } = energyOf(minutes(1, 150), man, { activity });
		expect(value?.lowKJ).toBeCloseTo(low * 60.4991, 8);
		expect(value?.highKJ).toBeCloseTo(high * 60.4991, 8);
		expect(value?.grossKJ).toBeCloseTo(((low + high) / 2) * 60.4991, 8);
	});

	it('never falls under resting expenditure, where the regression goes below zero', () => {
		const { value } = energyOf(minutes(10, 60), man, boxing);
		expect(value?.lowKJ).toBeCloseTo(50.2661, 4);
		expect(value?.highKJ).toBeCloseTo(50.2661, 4);
		expect(value).toMatchObject({ netKJ: 0, netLowKJ: 0, netHighKJ: 0 });
	});

	it('uses a measured VO2max', () => {
		// By hand for 150 bpm, VO2max 50, 75 kg, 30 years: 57.2065 kJ/min.
		const { value } = energyOf(minutes(10, 150), { ...man, vo2Max: 50 }, running);
		expect(value?.grossKJ).toBeCloseTo(572.065, 8);
		expect(value?.method).toBe('Keytel with VO2max');
	});

	it('counts no gap, neither as work nor as rest, and says so', () => {
		const grid = minutes(10, 150);
		grid.fill(NaN, 300);
		const { value } = energyOf(grid, man, running);
		expect(value).toMatchObject({ coverage: 0.5, countedS: 300 });
		expect(value?.grossKJ).toBeCloseTo(604.991 / 2, 8);
		expect(value?.restingKJ).toBeCloseTo(50.2661 / 2, 4);
		expect(value?.cautions).toEqual([
			'Readings cover only 50 % of the time; the gaps are not counted, so the figure is low.'
		]);
	});

	it.each<[string, EnergyFacts, RegExp]>([
		['the sex', { ...man, sex: undefined }, /sex is not given/],
		['the body mass', { ...man, weightKg: undefined }, /body mass is not given/],
		['the age', { ...man, ageYears: undefined }, /age is not given/],
		['a possible body mass', { ...man, weightKg: 7.5 }, /7.5 kg is outside/],
		['a possible VO2max', { ...man, vo2Max: 5 }, /VO2max of 5/],
		['a heart free of slowing medicine', { ...man, slowingMedicine: true }, /Medicine that slows the heart/]
	])('answers with the reason without %s', (_, athlete, reason) => {
		const answer = energyOf(minutes(1, 150), athlete, boxing);
		expect(answer.value).toBeUndefined();
		expect(answer.reason).toMatch(reason);
	});

	it('answers with the reason where nothing was read', () => {
		expect(energyOf(minutes(1, NaN), man, boxing).reason).toMatch(/No second has a heart-rate reading/);
		expect(energyOf(new Float64Array(0), man, boxing).value).toBeUndefined();
	});

	it('adds up over any split of the seconds', () => {
		fc.assert(
			fc.property(anyGrid(2, 200), fc.nat(200), anyAthlete, anyActivity, (grid, at, athlete, activity) => {
				const parts = [grid.subarray(0, at), grid.subarray(at)];
				const whole = energyOf(grid, athlete, { activity }).value;
				const apart = parts.map((part) => energyOf(part, athlete, { activity }).value);
				for (const key of ['grossKJ', 'lowKJ', 'highKJ', 'netKJ', 'restingKJ', 'countedS'] as const) {
					const sum = apart.reduce((total, value) => total + (value?.[key] ?? 0), 0);
					expect(whole?.[key] ?? 0).toBeCloseTo(sum, 6);
				}
			})
		);
	});

	it('keeps low <= figure <= high and net under gross, and never answers NaN', () => {
		fc.assert(
			fc.property(anyGrid(0, 120), anyAthlete, anyActivity, (grid, athlete, activity) => {
				const answer = energyOf(grid, athlete, { activity });
				expect(numbersIn(answer).every((each) => Number.isFinite(each) && each >= 0)).toBe(true);
				expect(answer.value === undefined).toBe(answer.reason !== undefined);
				const value = answer.value;
				if (!value) return;
				expect(value.lowKJ <= value.grossKJ && value.grossKJ <= value.highKJ).toBe(true);
				expect(value.netLowKJ <= value.netKJ && value.netKJ <= value.netHighKJ).toBe(true);
				expect(value.lowKJ).toBeGreaterThanOrEqual(value.restingKJ - 1e-9);
				expect(value.netHighKJ).toBeLessThan(value.highKJ);
			})
		);
	});

	it('never falls when the heart beats faster', () => {
		const anyRate = fc.integer({ min: 30, max: 230 });
		fc.assert(
			fc.property(anyRate, fc.nat(10), anyAthlete, anyActivity, (bpm, faster, athlete, activity) => {
				const at = (rate: number) => energyOf(minutes(1, rate), athlete, { activity }).value!;
				expect(at(bpm + faster).grossKJ).toBeGreaterThanOrEqual(at(bpm).grossKJ);
				expect(at(bpm + faster).lowKJ).toBeGreaterThanOrEqual(at(bpm).lowKJ);
			})
		);
	});

	it('never falls with body mass, but for women without VO2max, whose regression does', () => {
		const rises = anyAthlete.filter(({ sex, vo2Max }) => sex === 'male' || vo2Max !== undefined);
		fc.assert(
			fc.property(fc.integer({ min: 30, max: 230 }), rises, anyActivity, (bpm, athlete, activity) => {
				const at = (weightKg: number) =>
					energyOf(minutes(1, bpm), { ...athlete, weightKg }, { activity }).value!.grossKJ;
				expect(at(athlete.weightKg! + 5)).toBeGreaterThanOrEqual(at(athlete.weightKg!));
			})
		);
		const lighter = energyOf(minutes(1, 150), { ...woman, weightKg: 55 }, running).value!;
		expect(lighter.grossKJ).toBeGreaterThan(energyOf(minutes(1, 150), woman, running).value!.grossKJ);
	});
});
