// Published values and general-purpose libraries that the entries of Methods name under "Checked against", one check an
// entry. Where a test of the measure itself makes its check on the way, it stands there.
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { linearRegression, mean, median, sampleStandardDeviation } from 'simple-statistics';
import { expect, it } from 'vitest';
import { availabilityOf } from '$lib/physiology/availability';
import { budgetOf } from '$lib/physiology/energy-budget';
import { regressionKJPerMin } from '$lib/physiology/energy-regression';
import { fadeOf } from '$lib/physiology/fade';
import { deurenbergFatPercent } from '$lib/physiology/fat-free-mass';
import { banisterLoad, weekOf } from '$lib/physiology/load';
import { maxHeartRateFromAge } from '$lib/physiology/max-heart-rate';
import { metOf, type MetActivity } from '$lib/physiology/met';
import { fitRecovery } from '$lib/physiology/recovery-fit';
import { bandsByMaximum, bandsByReserve, targetFromReserve } from '$lib/physiology/reserve';
import { mifflinKcalPerDay, schofieldKcalPerDay } from '$lib/physiology/resting-expenditure';
import { quietTimeS, restingRate } from '$lib/physiology/resting';
import { medianWeight } from '$lib/physiology/weight';
import { youthExpenditureKcal } from '$lib/physiology/youth-energy';
import { chanceFrom, gridAround } from './builders';
import { outside } from './outside';

it('the curve of a recovery is that of Levenberg and Marquardt', () => {
	const check = outside(
		'recovery-curve',
		'Levenberg-Marquardt (npm ml-levenberg-marquardt) on simulated recoveries with noise: tau',
		's'
	);
	for (const tau of [20, 45, 60, 90, 140]) {
		const chance = chanceFrom(tau);
		const grid = gridAround(0, 240, (t) => 110 + 55 * Math.exp(-t / tau) + 1.5 * chance.normal());
		const points = { x: Array.from(grid, (_, i) => i), y: Array.from(grid) };
		const curve =
			([floor, amplitude, tauS]: number[]) =>
			(t: number) =>
				floor! + amplitude! * Math.exp(-t / tauS!);
		const { parameterValues } = levenbergMarquardt(points, curve, {
			initialValues: [110, 55, tau],
			damping: 0.01,
			gradientDifference: 1e-4,
			centralDifference: true,
			maxIterations: 200,
			errorTolerance: 1e-12
		});
		expect(check.take(fitRecovery(grid, 0, 240)!.tauS, parameterValues[2]!)).toBeLessThan(0.1);
	}
	check.settle();
});

it('the slope of a fade is that of a linear regression', () => {
	const check = outside('fade', 'Linear regression (npm simple-statistics): slope over the rounds', 'beats');
	for (const drops of [
		[60, 40, 20],
		[50, 49, 48],
		[52, 47, 45],
		[30, 41, 38, 44],
		[55, 55, 51, 48, 49, 40]
	]) {
		const rests = drops.map((drop60, i) => ({ round: i + 1, drop60, verdict: 'in the band' as const }));
		const { m } = linearRegression(drops.map((drop, i) => [i + 1, drop]));
		expect(check.take(fadeOf(rests)!.slopeBpm, m)).toBeLessThan(1e-9);
	}
	check.settle();
});

it('the formulas of the maximum give their values at 30 years', () => {
	// Fox 1971, Tanaka 2001, Gellish 2007, Gulati 2010, worked by hand.
	const check = outside('maximum', 'The four printed formulas, worked by hand at 30 years', 'bpm');
	const { formulas } = maxHeartRateFromAge(30)!;
	const byHand: Record<string, number> = {
		'220 - age': 190,
		'208 - 0.7 age': 187,
		'206.9 - 0.67 age': 186.8,
		'206 - 0.88 age': 179.6
	};
	expect(formulas).toHaveLength(4);
	for (const { formula, bpm } of formulas) expect(check.take(bpm, byHand[formula]!)).toBeLessThan(1e-9);
	check.settle();
});

it('targets and bands stand where they are printed', () => {
	// PMC9830234, table 3: maximum 190, rest 70; printed in whole beats.
	const table = 'Worked example in print (PMC9830234, table 3): moderate band at maximum 190, rest 70';
	const target = outside('reserve', table, 'bpm');
	expect(target.take(Math.round(targetFromReserve(0.4, 70, 190)!), 118)).toBe(0);
	expect(target.take(Math.round(targetFromReserve(0.59, 70, 190)!), 141)).toBe(0);
	target.settle();
	const bands = outside('reference-bands', table, 'bpm');
	const [byReserve] = bandsByReserve(70, 190)!;
	const [byMaximum] = bandsByMaximum(190)!;
	expect(bands.take(Math.round(byReserve!.lowBpm), 118)).toBe(0);
	expect(bands.take(Math.round(byReserve!.highBpm), 141)).toBe(0);
	expect(bands.take(Math.round(byMaximum!.lowBpm), 122)).toBe(0);
	expect(bands.take(Math.round(byMaximum!.highBpm), 144)).toBe(0);
	bands.settle();
});

it('the regression of energy gives its printed coefficients their values', () => {
	// Keytel et al., J Sports Sci 2005;23:289-297, at 150 bpm and 30 years, worked by hand.
	const check = outside(
		'energy-regression',
		'The four printed lines (Keytel 2005), worked by hand at 150 bpm',
		'kJ/min'
	);
	const man = { sex: 'male', weightKg: 75, ageYears: 30 } as const;
	const woman = { sex: 'female', weightKg: 60, ageYears: 30 } as const;
	expect(check.take(regressionKJPerMin(150, man), 60.4991)).toBeLessThan(1e-9);
	expect(check.take(regressionKJPerMin(150, woman), 41.3198)).toBeLessThan(1e-9);
	expect(check.take(regressionKJPerMin(150, { ...man, vo2Max: 50 }), 57.2065)).toBeLessThan(1e-9);
	expect(check.take(regressionKJPerMin(150, { ...woman, vo2Max: 45 }), 39.6046)).toBeLessThan(1e-9);
	check.settle();
});

it('the costs of activities are those of the compendium', () => {
	// 2024 Adult Compendium: Herrmann et al., J Sport Health Sci 2024;13:6-12.
	const check = outside('met', 'Table of the 2024 Adult Compendium', 'MET');
	const table: [MetActivity, number][] = [
		['boxing in the ring', 12.3],
		['bag', 5.8],
		['bag, 60 blows a minute', 7.0],
		['bag, 120 blows a minute', 8.5],
		['bag, 180 blows a minute', 10.8],
		['simulated round', 9.3],
		['skipping rope, moderate', 11.8],
		['skipping rope, fast', 12.3]
	];
	for (const [activity, met] of table) expect(check.take(metOf(activity).value!.met, met)).toBe(0);
	check.settle();
});

it('resting expenditure is that of the printed equations, in the other form in which each is printed', () => {
	const check = outside(
		'resting-expenditure',
		'The other printed forms: Mifflin unrounded, Schofield in kJ',
		'kcal a day'
	);
	// 9.99 kg + 6.25 cm - 4.92 age + 166 (men) - 161, in the abstract of Mifflin 1990; 5 kcal is what rounding moves.
	expect(
		check.take(mifflinKcalPerDay('male', 75, 180, 30)!, 9.99 * 75 + 6.25 * 180 - 4.92 * 30 + 5)
	).toBeLessThan(5);
	expect(
		check.take(mifflinKcalPerDay('female', 60, 165, 30)!, 9.99 * 60 + 6.25 * 165 - 4.92 * 30 - 161)
	).toBeLessThan(5);
	for (const kg of [30, 50, 70]) {
		expect(check.take(schofieldKcalPerDay('male', kg)!, (74 * kg + 2754) / 4.184)).toBeLessThan(1);
		expect(check.take(schofieldKcalPerDay('female', kg)!, (56 * kg + 2898) / 4.184)).toBeLessThan(1);
	}
	check.settle();
});

it('a load is that of the printed impulse', () => {
	// Morton, Fitz-Clarke, Banister, J Appl Physiol 1990;69:1171-7: 60 x 0.6923 x 0.64 exp(1.92 x 0.6923), by hand.
	const check = outside(
		'load',
		'The printed impulse of both sexes, worked by hand for an hour at 150 bpm',
		''
	);
	const hour = new Float64Array(3600).fill(150);
	const loadOf = (sex: 'male' | 'female') =>
		banisterLoad(hour, { sex, restBpm: 60, maxBpm: 190 }).value!.load;
	expect(check.take(loadOf('male'), 100.44)).toBeLessThan(0.001);
	expect(check.take(loadOf('female'), 113.516)).toBeLessThan(0.01);
	check.settle();
});

it('monotony is that of a statistics library', () => {
	const check = outside(
		'week',
		'Mean and standard deviation (npm simple-statistics): monotony of a week',
		''
	);
	for (const days of [
		[300, 0, 400, 200, 0, 500, 0],
		[90, 80, 100, 85, 95, 90, 0],
		[0, 0, 0, 700, 0, 0, 0]
	]) {
		expect(check.take(weekOf(days).monotony!, mean(days) / sampleStandardDeviation(days))).toBeLessThan(1e-9);
	}
	check.settle();
});

it('needs, fat and availability are those worked in print', () => {
	// Dietary Reference Intakes for Energy, 2023, table 5-8; its means are rounded to a tenth.
	const needs = outside('youth-needs', 'Dietary Reference Intakes for Energy 2023, table 5-8', 'kcal a day');
	expect(needs.take(youthExpenditureKcal('male', 8.7, 134, 37.1, 'active'), 2099)).toBeLessThan(2);
	expect(needs.take(youthExpenditureKcal('female', 9.6, 135, 37.6, 'active'), 1873)).toBeLessThan(2);
	needs.settle();

	// Deurenberg, Weststrate, Seidell, Br J Nutr 1991;65:105-114, by hand: 30 + 6.9 - 10.8 - 5.4, 26.4 + 6.9 - 5.4.
	const fat = outside(
		'fat-free-mass',
		'The printed equation of both sexes (Deurenberg 1991), worked by hand',
		'% fat'
	);
	expect(fat.take(deurenbergFatPercent('male', 25, 30)!, 20.7)).toBeLessThan(1e-9);
	expect(fat.take(deurenbergFatPercent('female', 22, 30)!, 27.9)).toBeLessThan(1e-9);
	fat.settle();

	// "How to calculate your metabolic rate", from a handbook on metabolism (Wiley), rounded on the way.
	const budget = outside(
		'energy-budget',
		'Resting expenditure worked in a handbook on metabolism',
		'kcal a day'
	);
	const { resting } = budgetOf(
		{ sex: 'female', ageYears: 45, weightKg: 75, heightCm: 165.1 },
		'sitting',
		[]
	).value!;
	expect(budget.take(Math.round(resting.value), 1396)).toBe(0);
	budget.settle();

	// Thomas, Erdman, Burke, Med Sci Sports Exerc 2016;48:543-568 (from memory).
	const availability = outside(
		'energy-availability',
		'Worked example in print (Thomas 2016, from memory)',
		'kcal/kg/day'
	);
	const exactly = (value: number) => ({ low: value, value, high: value });
	expect(availability.take(availabilityOf(2400, exactly(500), exactly(48))!.value, 39.6)).toBeLessThan(0.05);
	availability.settle();
});

it('the resting rate is the lowest mean of a minute', () => {
	const check = outside(
		'resting-rate',
		'Lowest mean of any minute after the first (npm simple-statistics)',
		'bpm'
	);
	for (const seed of [1, 2, 3, 4, 5]) {
		const chance = chanceFrom(seed);
		const seconds = Float64Array.from({ length: quietTimeS }, (_, s) =>
			Math.round(58 + 12 * Math.exp(-s / 90) + 3 * Math.sin(s / 25 + seed) + 2 * chance.normal())
		);
		const minutes = Array.from({ length: quietTimeS - 120 + 1 }, (_, i) =>
			mean([...seconds.subarray(60 + i, 120 + i)])
		);
		expect(check.take(restingRate(seconds, 0).value!.bpm, Math.min(...minutes))).toBeLessThan(1e-9);
	}
	check.settle();
});

it('the weight of a week is its median', () => {
	const check = outside('weight-median', 'Median (npm simple-statistics) of the weights of seven days', 'kg');
	for (const kgs of [
		[70.2],
		[70.2, 69.8],
		[71, 70.4, 70.1, 70.9, 69.5],
		[70, 71, 70.5, 69.9, 70.3, 70.8, 70.1]
	]) {
		const entries = [{ day: 2, kg: 90 }, ...kgs.map((kg, i) => ({ day: 3 + i, kg }))];
		expect(check.take(medianWeight(entries, 9)!, median(kgs))).toBeLessThan(1e-9);
	}
	check.settle();
});
