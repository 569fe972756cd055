import type { CleanIntervals, CorrectedInterval } from './rr-intervals';
import { meanRate } from './variability';

/** How the fluctuation of one box size is summed up. */
export type FluctuationConvention = 'all residuals' | 'mean of boxes';

/** Alpha-1 over two minutes. */
export interface ScalingWindow {
	/** Arrival of its first interval, ms, on the clock of the readings. */
	fromMs: number;
	/** Two minutes later, ms. */
	toMs: number;
	/** Undefined where more than 5 % of its intervals are put right, or there is nothing to scale. */
	alpha1: number | undefined;
	/** 60000 / mean RR, bpm. */
	meanRateBpm: number;
	/** Share of its intervals that are put right, 0 to 1. */
	correctedShare: number;
}

const smallestBox = 4;
const largestBox = 16;
// Four of the largest boxes; white noise then scatters by 0.1 about its expectation (SD, simulated).
const leastIntervals = 64;
// Residuals under this share of the mean interval are rounding, not a heart.
const leastFluctuation = 1e-9;

/**
 * Short-term scaling exponent alpha-1, without unit: slope of log F(n) over log n for boxes of n = 4 to 16
 * beats, by detrended fluctuation analysis. The intervals less their mean are summed up, cut from the start into
 * boxes of n (what is left over at the end is left out), and each box is freed of its own straight line; F(n) is
 * what remains. About 1 to 1.5 at rest and easy, falling with effort.
 *
 * Two conventions for F(n) are in use. Default: the root mean square of all residuals of all boxes, which is
 * the published definition (Peng, Havlin, Stanley, Goldberger, Chaos 1995;5:82-87) and unbiased in F squared. The other,
 * the mean of the boxes' root mean squares, underrates small boxes and so reads higher, on the same beats by
 * 0.09 to 0.11: enough to cross 0.75. It is there so that results printed that way can be checked.
 *
 * Error: boxes this short bias white noise upward. The expected F(n) squared is proportional to (n^2 - 4) / n
 * for white noise and to (n^2 - 4)(n^2 + 5) / n for Brownian noise, so they read 0.583 and 1.502 where 0.5 and
 * 1.5 are the limits (computed). The values of the method are read with this bias in them, and nothing is taken
 * off here. With 300 beats white noise scatters by 0.05 (SD, simulated).
 *
 * @param rrMs neighbouring intervals without artefacts or gaps, ms, 64 or more (own rule)
 * @returns undefined for fewer, for a value that is no finite number, and where nothing fluctuates
 * @example alpha1(whiteNoise) // about 0.58
 */
export function alpha1(
	rrMs: ArrayLike<number>,
	convention: FluctuationConvention = 'all residuals'
): number | undefined {
	const n = rrMs.length;
	if (n < leastIntervals) return undefined;
	let sum = 0;
	let largest = 0;
	for (let i = 0; i < n; i++) {
		sum += rrMs[i]!;
		largest = Math.max(largest, Math.abs(rrMs[i]!));
	}
	if (!Number.isFinite(sum)) return undefined;
	const mean = sum / n;
	const profile = new Float64Array(n);
	for (let i = 0, y = 0; i < n; i++) profile[i] = y += rrMs[i]! - mean;

	const logSizes: number[] = [];
	const logFluctuations: number[] = [];
	for (let size = smallestBox; size <= largestBox; size++) {
		const fluctuation = fluctuationOf(profile, size, convention);
		if (!(fluctuation > leastFluctuation * largest)) return undefined;
		logSizes.push(Math.log(size));
		logFluctuations.push(Math.log(fluctuation));
	}
	return slopeOf(logSizes, logFluctuations);
}

function fluctuationOf(profile: Float64Array, size: number, convention: FluctuationConvention): number {
	const boxes = Math.floor(profile.length / size);
	const middle = (size - 1) / 2;
	const sxx = (size * (size * size - 1)) / 12;
	let total = 0;
	for (let box = 0; box < boxes; box++) {
		const start = box * size;
		let mean = 0;
		let slope = 0;
		for (let k = 0; k < size; k++) {
			mean += profile[start + k]! / size;
			slope += ((k - middle) * profile[start + k]!) / sxx;
		}
		let squares = 0;
		for (let k = 0; k < size; k++) squares += (profile[start + k]! - mean - slope * (k - middle)) ** 2;
		total += convention === 'all residuals' ? squares / size : Math.sqrt(squares / size);
	}
	return convention === 'all residuals' ? Math.sqrt(total / boxes) : total / boxes;
}

function slopeOf(x: readonly number[], y: readonly number[]): number {
	const meanX = x.reduce((sum, each) => sum + each, 0) / x.length;
	let sxx = 0;
	let sxy = 0;
	for (let i = 0; i < x.length; i++) {
		sxx += (x[i]! - meanX) ** 2;
		sxy += (x[i]! - meanX) * y[i]!;
	}
	return sxy / sxx;
}

const usualLambda = 500;

/**
 * Takes the slow trend out of a series by smoothness priors: the trend minimises the squared distance to the
 * series plus lambda^2 times its squared second differences (Tarvainen, Ranta-aho, Karjalainen, IEEE Trans
 * Biomed Eng 2002;49:172-175; pages from memory). It acts as a high pass; with lambda 500 and one value a beat
 * it passes 0.71 of a wave of 113 beats and practically all of what 16 beats hold (computed).
 *
 * The equations are symmetric with five diagonals, and solved by factors without pivoting in a number of steps
 * proportional to the length.
 *
 * @param values evenly spaced, in any unit; under three there is no second difference and the trend is the series
 * @param lambda 0 or more; at 0 the trend is the series itself
 * @returns series less trend, in the unit of the series
 * @example detrended([800, 810, 820, 830]) // 0, 0, 0, 0: a straight line is all trend
 */
export function detrended(values: ArrayLike<number>, lambda = usualLambda): Float64Array {
	const n = values.length;
	const weight = lambda ** 2;
	// Second differences squared: 1 -2 1 in each of the n - 2 rows, added up on the main and two side diagonals.
	const diagonal = new Float64Array(n).fill(1);
	const first = new Float64Array(n);
	const second = new Float64Array(n);
	for (let row = 0; row + 2 < n; row++) {
		diagonal[row]! += weight;
		diagonal[row + 1]! += 4 * weight;
		diagonal[row + 2]! += weight;
		first[row]! -= 2 * weight;
		first[row + 1]! -= 2 * weight;
		second[row]! += weight;
	}
	const trend = Float64Array.from(values);
	for (let i = 0; i < n; i++) {
		for (const [step, band] of [
			[1, first],
			[2, second]
		] as const) {
			if (i + step >= n) continue;
			const factor = band[i]! / diagonal[i]!;
			diagonal[i + step]! -= factor * band[i]!;
			if (step === 1) first[i + 1]! -= factor * second[i]!;
			trend[i + step]! -= factor * trend[i]!;
		}
	}
	for (let i = n - 1; i >= 0; i--) {
		const later = first[i]! * (trend[i + 1] ?? 0) + second[i]! * (trend[i + 2] ?? 0);
		trend[i] = (trend[i]! - later) / diagonal[i]!;
	}
	return trend.map((each, i) => values[i]! - each);
}

/** Length of a moving window, ms. */
export const scalingWindowMs = 120_000;
const stepMs = 5000;
const greatestCorrectedShare = 0.05;
// What is left of an evenly changing rate is rounding; a strap's own step is a thousand times this.
const leastResidualMs = 1e-3;

/**
 * Alpha-1 in moving windows of two minutes, one every 5 s, each freed of its trend by smoothness priors with
 * lambda 500 beforehand, because the threshold values were established so (from memory). Here the priors act on
 * the beats as they follow one another, within each window; against none, they move alpha-1 by under 0.03
 * (computed on 300-beat pieces of four recordings at rest).
 *
 * Faulty beats are split, joined or filled in beforehand (`cleanIntervals`). At every gap, and where beats could not be
 * put right, the windows end and begin again: none reaches across (own rule).
 *
 * Error: see `alpha1`; windows that share beats are not independent, one in 24 is. A review finds little bias
 * under 3 % of corrected artefacts (Rogers & Gronwald, Front Physiol 2022;13:879071). A strap's 1/1024 s adds
 * white noise of 0.3 ms, which counts where a hard effort leaves 2 ms. Window and boxes: Rogers et al., Front
 * Physiol 2021;11:596567.
 *
 * @returns in order of time; none where no stretch lasts two minutes
 * @example scalingWindows(cleanIntervals(intervalsOf(readings)))[0]?.alpha1 // 1.08
 */
export function scalingWindows(clean: Pick<CleanIntervals, 'corrected'>): ScalingWindow[] {
	return stretchesOf(clean).flatMap((stretch) => {
		const windows: ScalingWindow[] = [];
		const lastMs = stretch.at(-1)!.ms;
		let from = 0;
		let to = 0;
		for (let fromMs = stretch[0]!.ms; fromMs + scalingWindowMs <= lastMs; fromMs += stepMs) {
			const toMs = fromMs + scalingWindowMs;
			while (stretch[from]!.ms < fromMs) from++;
			while (stretch[to]!.ms < toMs) to++;
			const inside = stretch.slice(from, to);
			const rrMs = inside.map((each) => each.rrMs);
			const correctedShare = inside.filter((each) => each.isCorrected).length / inside.length;
			const residuals = detrended(rrMs);
			const isUsable =
				correctedShare <= greatestCorrectedShare &&
				residuals.some((each) => Math.abs(each) > leastResidualMs);
			windows.push({
				fromMs,
				toMs,
				alpha1: isUsable ? alpha1(residuals) : undefined,
				meanRateBpm: meanRate([rrMs])!,
				correctedShare
			});
		}
		return windows;
	});
}

/** The series put right, in stretches of neighbours; the first may begin in the middle of one. */
function stretchesOf({ corrected }: Pick<CleanIntervals, 'corrected'>): CorrectedInterval[][] {
	const stretches: CorrectedInterval[][] = [];
	for (const interval of corrected) {
		if (interval.startsAnew || stretches.length === 0) stretches.push([]);
		stretches.at(-1)!.push(interval);
	}
	return stretches;
}
