import fc from '../by-chance';
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import { fitRecovery, mayShowTau } from '$lib/physiology/recovery-fit';
import { anyGrid, chanceFrom, delayed, gridAround, numbersIn, withGaps } from './builders';

const curve = (floor: number, amplitude: number, tau: number) => (t: number) =>
	floor + amplitude * Math.exp(-t / tau);

describe('fitRecovery', () => {
	it('finds the curve of the methods list again', () => {
		const exact = curve(120, 60, 60);
		// 120 + 60 exp(-t/60) is 156.39 at 30 s and 142.07 at 60 s (worked out from the formula).
		expect(exact(30)).toBeCloseTo(156.39, 2);
		expect(exact(60)).toBeCloseTo(142.07, 2);
		const fit = fitRecovery(gridAround(0, 180, exact), 0, 180)!;
		expect(fit.floorBpm).toBeCloseTo(120, 4);
		expect(fit.amplitudeBpm).toBeCloseTo(60, 4);
		expect(fit.tauS).toBeCloseTo(60, 4);
		expect(fit.r2).toBeCloseTo(1, 10);
		expect(fit.tauErrorS).toBeLessThan(0.001);
	});

	const cases = [20, 45, 60, 90, 140].flatMap((tau) =>
		[90, 125].flatMap((floor) =>
			[0, 1.5].flatMap((noise) => [false, true].map((hasGaps) => ({ tau, floor, noise, hasGaps })))
		)
	);

	// An independent minimiser: ml-levenberg-marquardt (MIT), started at the true values.
	it.each(cases)(
		'agrees with Levenberg-Marquardt at tau $tau, floor $floor, noise $noise, gaps $hasGaps',
		({ tau, floor, noise, hasGaps }) => {
			const chance = chanceFrom(tau * 1000 + floor);
			const exact = curve(floor, 55, tau);
			const whole = gridAround(0, 240, (t) => exact(t) + noise * chance.normal());
			const grid = hasGaps ? withGaps(whole, [0, 3, 4, 5, 50, 51, 52, 53, 54, 55, 56, 120, 239]) : whole;
			const x: number[] = [];
			const y: number[] = [];
			grid.forEach((bpm, i) => {
				if (Number.isNaN(bpm)) return;
				x.push(i);
				y.push(bpm);
			});
			const reference = levenbergMarquardt(
				{ x, y },
				([f, a, tauS]) =>
					(t) =>
						f! + a! * Math.exp(-t / tauS!),
				{
					initialValues: [floor, 55, tau],
					damping: 0.01,
					gradientDifference: 1e-4,
					centralDifference: true,
					maxIterations: 200,
					errorTolerance: 1e-12
				}
			);
			const [referenceFloor, referenceAmplitude, referenceTau] = reference.parameterValues;
			const fit = fitRecovery(grid, 0, 240)!;
			expect(fit.tauS / referenceTau!).toBeCloseTo(1, 3);
			expect(fit.floorBpm).toBeCloseTo(referenceFloor!, 1);
			expect(fit.amplitudeBpm).toBeCloseTo(referenceAmplitude!, 1);
			const errorAt = (f: number, a: number, tauS: number) =>
				x.reduce((sum, t, i) => sum + (y[i]! - f - a * Math.exp(-t / tauS)) ** 2, 0);
			const ours = errorAt(fit.floorBpm, fit.amplitudeBpm, fit.tauS);
			const theirs = errorAt(referenceFloor!, referenceAmplitude!, referenceTau!);
			const mean = y.reduce((sum, bpm) => sum + bpm, 0) / y.length;
			const variance = y.reduce((sum, bpm) => sum + (bpm - mean) ** 2, 0);
			expect(fit.r2).toBeCloseTo(1 - ours / variance, 9);
			expect(ours).toBeLessThanOrEqual(theirs * (1 + 1e-9) + 1e-9);
		}
	);

	it('refuses under 30 usable entries', () => {
		const grid = gridAround(0, 60, curve(110, 60, 40));
		expect(fitRecovery(grid, 0, 29)).toBeUndefined();
		expect(fitRecovery(grid, 0, 30)).toBeDefined();
		expect(fitRecovery(withGaps(grid, [7]), 0, 30)).toBeUndefined();
	});

	it('refuses a rate that never changes, one that rises and one that is only noise', () => {
		const chance = chanceFrom(3);
		expect(fitRecovery(new Float64Array(180).fill(150), 0, 180)).toBeUndefined();
		expect(fitRecovery(gridAround(0, 180, curve(170, -60, 60)), 0, 180)).toBeUndefined();
		const noise = gridAround(0, 180, () => 150 + 3 * chance.normal());
		expect(fitRecovery(noise, 0, 180)).toBeUndefined();
		// A fall is there, but noise as large as it: the curve explains some half of the variance, and 0.9 are asked for.
		const shaken = gridAround(0, 180, (t) => curve(120, 20, 60)(t) + 5 * chance.normal());
		expect(fitRecovery(shaken, 0, 180)).toBeUndefined();
	});

	it('refuses a straight fall and a sudden one, whose tau lies at a bound', () => {
		expect(
			fitRecovery(
				gridAround(0, 180, (t) => 180 - 0.3 * t),
				0,
				180
			)
		).toBeUndefined();
		expect(
			fitRecovery(
				gridAround(0, 180, (t) => (t === 0 ? 180 : 120)),
				0,
				180
			)
		).toBeUndefined();
		expect(fitRecovery(gridAround(0, 600, curve(100, 80, 590)), 0, 600)?.tauS).toBeCloseTo(590, 0);
		expect(fitRecovery(gridAround(0, 60, curve(100, 80, 5.2)), 0, 60)?.tauS).toBeCloseTo(5.2, 2);
	});

	it('gives tau an honest error where neighbouring residuals hang together', () => {
		const chance = chanceFrom(17);
		const scores: number[] = [];
		for (let k = 0; k < 300; k++) {
			const exact = curve(110, 60, 60);
			let residual = 0;
			const grid = gridAround(0, 240, (t) => {
				residual = 0.7 * residual + Math.sqrt(1 - 0.49) * 1.5 * chance.normal();
				return exact(t) + residual;
			});
			const fit = fitRecovery(grid, 0, 240)!;
			scores.push((fit.tauS - 60) / fit.tauErrorS);
		}
		// A standard error is honest when these scores have a standard deviation near 1; without the widening
		// for correlation it comes out near 2.4.
		const spread = Math.sqrt(scores.reduce((sum, score) => sum + score ** 2, 0) / scores.length);
		expect(spread).toBeGreaterThan(0.85);
		expect(spread).toBeLessThan(1.2);
	});

	// After maximal work one exponential is not enough (Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174).
	it('finds other taus in 180, 300 and 420 s of one heart with two exponentials, beyond their error', () => {
		const chance = chanceFrom(41);
		let wander = 0;
		const heart = gridAround(0, 420, (t) => {
			wander = 0.85 * wander + Math.sqrt(1 - 0.85 ** 2) * chance.normal();
			return Math.round(95 + 45 * Math.exp(-t / 30) + 40 * Math.exp(-t / 240) + wander);
		});
		const [short, middle, long] = [180, 300, 420].map((lengthS) => fitRecovery(heart, 0, lengthS)!);
		const apart = (a: typeof short, b: typeof short) =>
			(b!.tauS - a!.tauS) / Math.hypot(a!.tauErrorS, b!.tauErrorS);
		expect(apart(short, middle)).toBeGreaterThan(1.96);
		expect(apart(short, long)).toBeGreaterThan(2.8);
		// Each of them alone passes for a good one.
		expect([mayShowTau(short!, 180), mayShowTau(middle!, 300), mayShowTau(long!, 420)]).toEqual([
			true,
			true,
			true
		]);
	});

	it('never answers NaN and always keeps to its bounds', () => {
		fc.assert(
			fc.property(anyGrid(0, 200), fc.integer({ min: 0, max: 40 }), (grid, fromS) => {
				const fit = fitRecovery(grid, fromS, 200);
				expect(numbersIn(fit).every(Number.isFinite)).toBe(true);
			})
		);
		const exact = fc.tuple(
			fc.double({ min: 60, max: 140, noNaN: true }),
			fc.double({ min: 5, max: 90, noNaN: true }),
			fc.double({ min: 1, max: 2000, noNaN: true })
		);
		fc.assert(
			fc.property(exact, ([floor, amplitude, tau]) => {
				const fit = fitRecovery(
					gridAround(0, 120, (t) => Math.round(curve(floor, amplitude, tau)(t))),
					0,
					120
				);
				expect(numbersIn(fit).every(Number.isFinite)).toBe(true);
				expect(!fit || (fit.tauS > 5 && fit.tauS < 600 && fit.r2 >= 0.9 && fit.amplitudeBpm > 0)).toBe(true);
			})
		);
	});

	it('shifts nothing when grid and window shift by whole seconds', () => {
		const chance = chanceFrom(5);
		const grid = gridAround(0, 180, (t) => curve(110, 60, 60)(t) + chance.normal());
		expect(fitRecovery(delayed(grid, 777), 777, 957)).toEqual(fitRecovery(grid, 0, 180));
	});
});

describe('mayShowTau', () => {
	const fit = { floorBpm: 110, amplitudeBpm: 60, tauS: 60, tauErrorS: 14.9, r2: 0.98 };

	// Not stable before about 3 minutes: Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174.
	it('shows tau only from three minutes on and with an error under a quarter', () => {
		expect(mayShowTau(fit, 180)).toBe(true);
		expect(mayShowTau(fit, 179)).toBe(false);
		expect(mayShowTau({ ...fit, tauErrorS: 15 }, 600)).toBe(false);
	});
});
