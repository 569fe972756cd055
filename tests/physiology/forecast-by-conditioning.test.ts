import { describe, expect, it } from 'vitest';
import { beliefsOf, withUsualFall, type ForecastPrior } from '$lib/physiology/drop-beliefs';
import { forecastDrop60 } from '$lib/physiology/forecast';
import type { Seconds } from '$lib/physiology/grid';
import { restCurves } from '$lib/physiology/rest-curves';
import { WeighedDrops } from '$lib/physiology/weighed-drops';
import { gridAround, withGaps } from './builders';

// The same forecast by another road: not least squares with two unknowns on readings made independent, but all
// covariances of the readings and of what is to come written out, and one normal distribution conditioned on the others.

const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const dot = (a: number[], b: number[]) => a.reduce((sum, value, i) => sum + value * b[i]!, 0);

/** Vectors made independent by the covariance, so that its inverse between two is their product; and its determinant. */
function whitened(covariance: number[][], ...vectors: number[][]) {
	const rows = covariance.map((row, i) => [...row, ...vectors.map((vector) => vector[i]!)]);
	const n = rows.length;
	for (let i = 0; i < n; i++)
		for (let k = i + 1; k < n; k++) {
			const times = rows[k]![i]! / rows[i]![i]!;
			for (let column = i; column < n + vectors.length; column++)
				rows[k]![column]! -= times * rows[i]![column]!;
		}
	return {
		logDeterminant: rows.reduce((sum, row, i) => sum + Math.log(row[i]!), 0),
		white: vectors.map((_, which) => rows.map((row, i) => row[n + which]! / Math.sqrt(row[i]!)))
	};
}

const togetherOver = (s: number) => Math.exp(-Math.abs(s) / 12);

function conditioned(seconds: Seconds, bellS: number, nowS: number, prior: ForecastPrior) {
	const bpmAt = (second: number) => (bellS + second < nowS ? seconds[bellS + second]! : NaN);
	const isKnown = (second: number) => !Number.isNaN(bpmAt(second));
	const bellBpm = mean([-5, -4, -3, -2, -1].filter(isKnown).map(bpmAt));
	const around = Array.from({ length: 30 }, (_, i) => i - 10).filter(isKnown);
	const peakS = around.reduce((best, second) => (bpmAt(second) > bpmAt(best) ? second : best), around[0]!);
	const calm = Math.min(3.5, Math.max(1, 1 + (170 - bellBpm) / 20));

	const blocks: { seconds: number[]; middleS: number; bpm: number }[] = [];
	for (let toS = nowS - bellS; toS > Math.max(0, peakS); toS -= 3) {
		const own = [toS - 3, toS - 2, toS - 1].filter(
			(second) => second >= Math.max(0, peakS) && isKnown(second)
		);
		if (own.length > 0)
			blocks.push({ seconds: own, middleS: mean(own), bpm: mean(own.map(bpmAt)) - bellBpm });
	}
	const window = [55, 56, 57, 58, 59];
	const open = window.filter((second) => !isKnown(second));
	const knownBpm = window.filter(isKnown).reduce((sum, second) => sum + (bpmAt(second) - bellBpm) / 5, 0);
	const openShare = open.length / 5;
	const rates = blocks.map(({ bpm }) => bpm);
	const shared = blocks.map(({ middleS }) => blocks.map((other) => togetherOver(other.middleS - middleS)));
	const carried = blocks.map(
		({ middleS }) => open.reduce((sum, second) => sum + togetherOver(second - middleS), 0) / 5
	);

	const beliefs = beliefsOf(prior, bellBpm);
	const drops = new WeighedDrops(restCurves().length * beliefs.length * 3);
	for (const { doneAt, share60, logWeight } of restCurves()) {
		const done = blocks.map((block) => mean(block.seconds.map((second) => doneAt[second]!)));
		const doneInWindow = open.reduce((sum, second) => sum + doneAt[second]! / 5, 0);
		for (const belief of beliefs) {
			const fall = withUsualFall(belief, share60);
			for (const [wanderBpm, guess] of [
				[0.7, 0.4],
				[1.5, 0.4],
				[3.2, 0.2]
			] as const) {
				const wander = (wanderBpm * calm) ** 2;
				const covariance = shared.map((row, i) =>
					row.map((part, k) => 36 + (done[i]! * done[k]!) / fall.precision + wander * part)
				);
				const off = rates.map((bpm, i) => bpm + fall.mean * done[i]!);
				const withWindow = done.map(
					(part, i) => 36 * openShare + (part * doneInWindow) / fall.precision + wander * carried[i]!
				);
				const { white, logDeterminant } = whitened(covariance, off, withWindow);
				const [ofReadings, ofWindow] = white as [number[], number[]];
				drops.push(
					-(knownBpm - fall.mean * doneInWindow + dot(ofWindow, ofReadings)),
					36 * openShare ** 2 +
						doneInWindow ** 2 / fall.precision +
						wander * openShare ** 2 -
						dot(ofWindow, ofWindow),
					logWeight +
						Math.log(guess) +
						fall.logWeight -
						(Math.log(fall.precision) + dot(ofReadings, ofReadings) + logDeterminant) / 2
				);
			}
		}
	}
	const [least, drop60, most] = drops.quantiles([0.1, 0.5, 0.9]) as [number, number, number];
	// No curve knows a beat and a half for each quarter of a minute to come.
	const unknown = (1.5 * Math.sqrt(calm) * (bellS + 60 - nowS)) / 15;
	return {
		drop60,
		low: drop60 - Math.hypot(drop60 - least, unknown),
		high: drop60 + Math.hypot(most - drop60, unknown)
	};
}

/** A rate that climbs on for some seconds after the bell, falls, and wanders a little. */
const restOf = (bellBpm: number, drop: number, tauS: number, climbsS: number) =>
	gridAround(10, 60, (s) => {
		const fallsS = Math.max(0, s - climbsS);
		const climb = s < 0 ? 0 : Math.min(s, climbsS) * 0.5;
		return Math.round(bellBpm + climb - drop * (1 - Math.exp(-fallsS / tauS)) + 1.4 * Math.sin(s / 4));
	});

const earlier = [44, 51].map((drop60) => ({ bellBpm: 172, drop60 }));

describe('the forecast of a drop', () => {
	it.each([
		{ what: 'early, of anybody', grid: restOf(178, 60, 45, 6), nowS: 32, prior: {} },
		{
			what: 'of somebody with two earlier rests',
			grid: restOf(178, 30, 60, 0),
			nowS: 41,
			prior: { earlier }
		},
		{ what: 'of a calm heart', grid: restOf(128, 45, 35, 3), nowS: 53, prior: {} },
		{ what: 'of a very calm heart', grid: restOf(96, 20, 35, 3), nowS: 50, prior: {} },
		{ what: 'that is known in part', grid: restOf(180, 70, 50, 8), nowS: 68, prior: { earlier } },
		{
			what: 'with gaps',
			grid: withGaps(restOf(170, 50, 40, 2), [7, 12, 24, 25, 26, 27, 28, 29, 40, 47]),
			nowS: 55,
			prior: {}
		}
	])('is what conditioning comes to: $what', ({ grid, nowS, prior }) => {
		const forecast = forecastDrop60(grid, 10, nowS, prior, Infinity)!;
		const expected = conditioned(grid, 10, nowS, prior);

		expect(forecast.drop60).toBeCloseTo(expected.drop60, 5);
		expect(forecast.low).toBeCloseTo(expected.low, 5);
		expect(forecast.high).toBeCloseTo(expected.high, 5);
	});
});
