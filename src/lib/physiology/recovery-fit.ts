import type { Seconds } from './grid';

/** HR(t) = floor + amplitude exp(-t / tau), t in seconds from the fit's first second. */
export interface RecoveryFit {
	/** Where the curve settles, bpm. */
	floorBpm: number;
	/** Height above the floor at the fit's first second, bpm, more than 0. */
	amplitudeBpm: number;
	/** Time constant, s, within 5 to 600. */
	tauS: number;
	/** One standard error of tau, s, allowing for correlated residuals; without what one exponential gets wrong. */
	tauErrorS: number;
	/** Share of the variance explained, 0.9 to 1. */
	r2: number;
}

interface LinearFit {
	floor: number;
	amplitude: number;
	sse: number;
}

const shortestTauS = 5;
const longestTauS = 600;
const leastEntries = 30;
const leastR2 = 0.9;
/** A recovery shorter than this shows no tau to people, so that its curve need not be fitted. */
export const leastRecoveryS = 180;
const greatestRelativeError = 0.25;

/**
 * Fits a single exponential to a recovery by least squares: a search over tau, with linear least squares for
 * floor and amplitude inside, so it always ends. Drawn from the later of peak and bell (`recoveryFromS`).
 *
 * A single exponential is not stable before about 3 minutes (Pierpont, Stolpman, Gornick, J Auton Nerv Syst
 * 2000;80:169-174), so in a corner minute it serves the drawing only; see `mayShowTau`. The error of tau comes
 * from the curvature of the fit, widened by (1 + r) / (1 - r) for residuals of lag-one correlation r, because a
 * strap's neighbouring seconds are smoothed together. That error leaves out that a heart does not fall by one
 * exponential after hard work (Pierpont as above; two against one: Joseph, Kanthakumar, Tharion, Indian J Physiol
 * Pharmacol 2023;67:125-130, result not seen): of one heart, recoveries of 180, 300 and 420 s differ beyond it, so that
 * a tau is compared only with those of recoveries of equal length.
 *
 * @param fromS first grid second of the fit, where t is 0; whole
 * @param toS one past the last; whole
 * @returns undefined under 30 usable entries, without variance, for a tau at a bound of 5 or 600 s, for a rate
 *   that does not fall, and for r2 under 0.9
 * @example fitRecovery(grid, 10, 190)?.tauS // 60, for 120 + 60 exp(-t / 60)
 */
export function fitRecovery(seconds: Seconds, fromS: number, toS: number): RecoveryFit | undefined {
	const times: number[] = [];
	const rates: number[] = [];
	for (let i = Math.max(0, fromS); i < Math.min(toS, seconds.length); i++) {
		if (Number.isNaN(seconds[i]!)) continue;
		times.push(i - fromS);
		rates.push(seconds[i]!);
	}
	if (times.length < leastEntries) return undefined;
	const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
	const variance = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0);
	if (variance === 0) return undefined;

	const tauS = bestTau((tau) => linearFit(times, rates, tau).sse);
	if (tauS === undefined) return undefined;
	const { floor, amplitude, sse } = linearFit(times, rates, tauS);
	const r2 = 1 - sse / variance;
	if (!(amplitude > 0) || !(r2 >= leastR2)) return undefined;
	const tauErrorS = tauError(times, rates, { floor, amplitude, sse }, tauS);
	if (!Number.isFinite(tauErrorS)) return undefined;
	return { floorBpm: floor, amplitudeBpm: amplitude, tauS, tauErrorS, r2 };
}

/**
 * May tau be shown to people? Only from recoveries of 180 s or more (Pierpont, Stolpman, Gornick, J Auton Nerv
 * Syst 2000;80:169-174) whose error is under a quarter of tau (own rule); never from a corner minute.
 *
 * @param recoveryS length of the recovery from its bell, s
 * @example mayShowTau({ ...fit, tauS: 60, tauErrorS: 4 }, 180) // true
 */
export function mayShowTau(fit: RecoveryFit, recoveryS: number): boolean {
	return recoveryS >= leastRecoveryS && fit.tauErrorS < greatestRelativeError * fit.tauS;
}

function linearFit(times: readonly number[], rates: readonly number[], tau: number): LinearFit {
	const n = times.length;
	let meanX = 0;
	let meanY = 0;
	for (let i = 0; i < n; i++) {
		meanX += Math.exp(-times[i]! / tau) / n;
		meanY += rates[i]! / n;
	}
	let sxx = 0;
	let sxy = 0;
	for (let i = 0; i < n; i++) {
		const x = Math.exp(-times[i]! / tau) - meanX;
		sxx += x * x;
		sxy += x * (rates[i]! - meanY);
	}
	const amplitude = sxy / sxx;
	const floor = meanY - amplitude * meanX;
	let sse = 0;
	for (let i = 0; i < n; i++) {
		sse += (rates[i]! - floor - amplitude * Math.exp(-times[i]! / tau)) ** 2;
	}
	return { floor, amplitude, sse };
}

// Steps of about 8 % find the right valley; the golden section inside it then halves the bracket's logarithm
// every one and a half steps, so 60 steps leave nothing that a double could hold.
const coarseSteps = 60;
const fineSteps = 60;
// A search that is driven to a bound ends this close to it.
const boundShare = 1e-4;
const golden = (Math.sqrt(5) - 1) / 2;

/** The tau of the smallest error, or undefined where it lies at a bound. */
function bestTau(errorAt: (tauS: number) => number): number | undefined {
	const logAt = (step: number) =>
		Math.log(shortestTauS) + (step / coarseSteps) * Math.log(longestTauS / shortestTauS);
	let best = 0;
	let bestError = Infinity;
	for (let step = 0; step <= coarseSteps; step++) {
		const error = errorAt(Math.exp(logAt(step)));
		if (error < bestError) {
			best = step;
			bestError = error;
		}
	}
	let low = logAt(Math.max(0, best - 1));
	let high = logAt(Math.min(coarseSteps, best + 1));
	let left = high - golden * (high - low);
	let right = low + golden * (high - low);
	let leftError = errorAt(Math.exp(left));
	let rightError = errorAt(Math.exp(right));
	for (let step = 0; step < fineSteps; step++) {
		if (leftError <= rightError) {
			high = right;
			right = left;
			rightError = leftError;
			left = high - golden * (high - low);
			leftError = errorAt(Math.exp(left));
		} else {
			low = left;
			left = right;
			leftError = rightError;
			right = low + golden * (high - low);
			rightError = errorAt(Math.exp(right));
		}
	}
	const tauS = Math.exp((low + high) / 2);
	const isAtBound = tauS < shortestTauS * (1 + boundShare) || tauS > longestTauS * (1 - boundShare);
	return isAtBound ? undefined : tauS;
}

// Beyond this the widening is no longer an estimate; the error is large enough to refuse the tau by itself.
const greatestCorrelation = 0.99;

function tauError(times: readonly number[], rates: readonly number[], fit: LinearFit, tau: number): number {
	const n = times.length;
	// Derivative of the curve with respect to tau, and what of it floor and amplitude cannot explain.
	const slopes = times.map((t) => ((fit.amplitude * t) / tau ** 2) * Math.exp(-t / tau));
	const unexplained = linearFit(times, slopes, tau).sse;
	let products = 0;
	let pairs = 0;
	let previous = NaN;
	for (let i = 0; i < n; i++) {
		const residual = rates[i]! - fit.floor - fit.amplitude * Math.exp(-times[i]! / tau);
		if (i > 0 && times[i]! - times[i - 1]! === 1) {
			products += previous * residual;
			pairs++;
		}
		previous = residual;
	}
	const residualVariance = fit.sse / n;
	const raw = pairs > 0 && residualVariance > 0 ? products / pairs / residualVariance : 0;
	const correlation = Math.min(greatestCorrelation, Math.max(0, raw));
	const widening = (1 + correlation) / (1 - correlation);
	return Math.sqrt(((fit.sse / (n - 3)) * widening) / unexplained);
}
