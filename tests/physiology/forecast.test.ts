import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forecastDrop60 } from '$lib/physiology/forecast';
import { measureRest } from '$lib/physiology/recovery';
import { anyGrid, chanceFrom, delayed, gridAround, numbersIn, withGaps } from './builders';

const bellS = 20;

/**
 * One rest as a strap would report it: a flat stretch after the bell, an exponential, slow wander of the heart,
 * the strap's smoothing over some seconds, whole beats.
 */
function simulatedRest(chance: ReturnType<typeof chanceFrom>) {
	const amplitude = chance.between(30, 90);
	const floor = chance.between(80, Math.min(130, 200 - amplitude));
	const tauS = chance.between(30, 120);
	const flatS = chance.between(0, 20);
	const noiseBpm = chance.between(0.3, 2);
	const smoothingS = chance.between(1, 5);
	const climbBpmPerS = chance.between(0, 0.3);
	let wander = 0;
	let shown = NaN;
	const beforeS = 50;
	const grid = gridAround(beforeS, 62, (t) => {
		const middle = t + 0.5;
		const top = floor + amplitude;
		const heart =
			middle < 0
				? top + climbBpmPerS * middle
				: middle < flatS
					? top
					: floor + amplitude * Math.exp(-(middle - flatS) / tauS);
		wander = 0.7 * wander + noiseBpm * Math.sqrt(1 - 0.49) * chance.normal();
		const felt = heart + wander;
		shown = Number.isNaN(shown) ? felt : shown + (felt - shown) / smoothingS;
		return Math.round(shown);
	}).subarray(beforeS - bellS);
	return { grid, ownTauS: tauS * Math.exp(0.15 * chance.normal()) };
}

const chance = chanceFrom(20_260);
const rests = Array.from({ length: 1200 }, () => simulatedRest(chance)).map((rest) => ({
	...rest,
	drop60: measureRest(rest.grid, bellS, bellS + 60).drop60!
}));

describe('forecastDrop60', () => {
	const cases = [20, 30, 45].flatMap((second) => ['own', 'usual'].map((tau) => ({ second, tau })));

	it.each(cases)('holds 75 to 85 % of simulated drops at second $second with the $tau tau', (each) => {
		let inside = 0;
		let shown = 0;
		let insideShown = 0;
		for (const { grid, ownTauS, drop60 } of rests) {
			const prior = each.tau === 'own' ? { tauS: ownTauS } : {};
			const forecast = forecastDrop60(grid, bellS, bellS + each.second, prior, Infinity)!;
			const isInside = drop60 >= forecast.low && drop60 <= forecast.high;
			if (isInside) inside++;
			if (!forecastDrop60(grid, bellS, bellS + each.second, prior)) continue;
			shown++;
			if (isInside) insideShown++;
		}
		expect(inside / rests.length).toBeGreaterThanOrEqual(0.75);
		expect(inside / rests.length).toBeLessThanOrEqual(0.85);
		// Those narrow enough to be shown must not be the overconfident ones.
		expect(insideShown / shown).toBeGreaterThanOrEqual(0.75);
		expect(insideShown / shown).toBeLessThanOrEqual(0.85);
		// From half a minute on it is of use: most rests have one.
		if (each.second >= 30) expect(shown / rests.length).toBeGreaterThan(0.9);
	});

	const exact = gridAround(bellS, 60, (t) => (t < 0 ? 180 : 120 + 60 * Math.exp(-t / 60)));
	// Bell rate 180, rate at 60 the mean of 120 + 60 exp(-t/60) over 55 to 59: 143.2, worked out from the formula.
	const exactDrop = 180 - [55, 56, 57, 58, 59].reduce((sum, t) => sum + 120 + 60 * Math.exp(-t / 60), 0) / 5;

	it('lands on the drop of an exact exponential', () => {
		for (const second of [20, 30, 45, 59]) {
			const forecast = forecastDrop60(exact, bellS, bellS + second)!;
			expect(forecast.drop60).toBeCloseTo(exactDrop, 0);
			expect(forecast.low).toBeLessThan(exactDrop);
			expect(forecast.high).toBeGreaterThan(exactDrop);
		}
	});

	it('speaks from second 20 to second 59 only', () => {
		const spoken = [0, 19, 20, 59, 60, 61].filter((s) =>
			forecastDrop60(exact, bellS, bellS + s, {}, Infinity)
		);
		expect(spoken).toEqual([20, 59]);
	});

	it('does not read what has not been lived yet', () => {
		const future = exact.slice();
		future.fill(240, bellS + 30);
		expect(forecastDrop60(future, bellS, bellS + 30)).toEqual(forecastDrop60(exact, bellS, bellS + 30));
	});

	it('keeps silent without a bell rate, under ten readings, and while it is 16 bpm wide or wider', () => {
		const noBell = withGaps(exact, [bellS - 1, bellS - 2, bellS - 3]);
		expect(forecastDrop60(noBell, bellS, bellS + 30, {}, Infinity)).toBeUndefined();
		const nine = withGaps(
			exact,
			Array.from({ length: 21 }, (_, i) => bellS + i)
		);
		expect(forecastDrop60(nine, bellS, bellS + 30, {}, Infinity)).toBeUndefined();
		expect(forecastDrop60(nine, bellS, bellS + 31, {}, Infinity)).toBeDefined();
		const wide = rests.filter(({ grid }) => {
			const forecast = forecastDrop60(grid, bellS, bellS + 20, {}, Infinity)!;
			return forecast.high - forecast.low >= 16;
		});
		expect(wide.length).toBeGreaterThan(100);
		expect(wide.filter(({ grid }) => forecastDrop60(grid, bellS, bellS + 20))).toEqual([]);
	});

	it('never answers NaN and keeps its figure inside its interval', () => {
		const anyPrior = fc.option(fc.double({ min: -10, max: 700 }), { nil: undefined });
		fc.assert(
			fc.property(anyGrid(0, 90), fc.integer({ min: 0, max: 70 }), anyPrior, (grid, second, tauS) => {
				const forecast = forecastDrop60(grid, bellS, bellS + second, { tauS }, Infinity);
				expect(numbersIn(forecast).every(Number.isFinite)).toBe(true);
				expect(!forecast || (forecast.low < forecast.drop60 && forecast.drop60 < forecast.high)).toBe(true);
			}),
			{ numRuns: 300 }
		);
	});

	it('shifts nothing when grid and bell shift by whole seconds', () => {
		const { grid } = rests[0]!;
		const later = forecastDrop60(delayed(grid, 512), bellS + 512, bellS + 512 + 40);
		const now = forecastDrop60(grid, bellS, bellS + 40);
		expect(later).toEqual(now);
		expect(now).toBeDefined();
	});
});
