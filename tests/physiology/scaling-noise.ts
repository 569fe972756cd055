import type { Interval } from '$lib/physiology/rr-intervals';
import { chanceFrom } from './builders';

const sizes = Array.from({ length: 13 }, (_, i) => i + 4);

/** Slope of log y over log n for n = 4 to 16, written out once more, apart from the code under test. */
export function logSlope(yOf: (n: number) => number): number {
	const points = sizes.map((n) => [Math.log(n), Math.log(yOf(n))] as const);
	const meanX = points.reduce((sum, [x]) => sum + x, 0) / points.length;
	const sxx = points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
	return points.reduce((sum, [x, y]) => sum + (x - meanX) * y, 0) / sxx;
}

/**
 * Alpha-1 that a first-order autoregression x(t) = phi x(t - 1) + noise has in expectation, exactly: the expected
 * squared residual of a box is the trace of (what a straight line leaves) times (covariance of the profile).
 */
export function alphaOfAutoregression(phi: number): number {
	return logSlope((n) => {
		// Covariance of the sums of the first i and the first j values.
		const profile: number[][] = [];
		for (let i = 0; i < n; i++) {
			profile.push([]);
			for (let j = 0; j < n; j++) {
				let sum = 0;
				for (let a = 0; a <= i; a++) for (let b = 0; b <= j; b++) sum += phi ** Math.abs(a - b);
				profile[i]!.push(sum);
			}
		}
		const middle = (n - 1) / 2;
		const sxx = sizes.includes(n) ? (n * (n * n - 1)) / 12 : NaN;
		let trace = 0;
		for (let i = 0; i < n; i++) {
			for (let j = 0; j < n; j++) {
				const onLine = 1 / n + ((i - middle) * (j - middle)) / sxx;
				trace += ((i === j ? 1 : 0) - onLine) * profile[i]![j]!;
			}
		}
		return Math.sqrt(trace / n);
	});
}

const phis = Array.from({ length: 66 }, (_, i) => -0.4 + 0.02 * i);
const alphas = phis.map(alphaOfAutoregression);

/** The phi whose alpha-1 this is, between 0.4 and 1.25; by linear interpolation. */
function phiOf(alpha: number): number {
	const above = Math.max(
		1,
		alphas.findIndex((each) => each >= alpha)
	);
	const share = (alpha - alphas[above - 1]!) / (alphas[above]! - alphas[above - 1]!);
	return phis[above - 1]! + share * (phis[above]! - phis[above - 1]!);
}

/** Beats of an effort whose rate and alpha-1 are known at every moment, as a strap would time them. */
export function effort(options: {
	minutes: number;
	/** Mean rate, bpm, `share` of the way through. */
	bpmAt: (share: number) => number;
	/** The exponent at that rate, 0.4 to 1.25. */
	alphaAt: (bpm: number) => number;
	seed: number;
	spreadMs?: number;
}): Interval[] {
	const chance = chanceFrom(options.seed);
	const spreadMs = options.spreadMs ?? 6;
	const lengthMs = options.minutes * 60_000;
	const intervals: Interval[] = [];
	let noise = chance.normal();
	for (let ms = 0; ms < lengthMs;) {
		const bpm = options.bpmAt(ms / lengthMs);
		const phi = phiOf(options.alphaAt(bpm));
		noise = phi * noise + Math.sqrt(1 - phi ** 2) * chance.normal();
		const rrMs = Math.round((60_000 / bpm + spreadMs * noise) * 1.024) / 1.024;
		ms += rrMs;
		intervals.push({ ms, rrMs });
	}
	return intervals;
}
