/** One course that the rate may take in the minute after a bell. */
export interface RestCurve {
	/** For each second from the bell: what part of the fall to second 60 is done; 1 in the mean of seconds 55 to 59. */
	doneAt: Float64Array;
	/** What part of the whole fall is done by then, 0 to 1. */
	share60: number;
	/** How likely the curve is before anything is known of the rest; logarithm, without a common constant. */
	logWeight: number;
}

// Time constants of athletes: seated 52.5 +/- 14.6 s, pedalling 74.1 +/- 24.0, lying 32.0 +/- 9.1 (Barak et al., J
// Sports Sci Med 2011;10:369-375). Those of single people lie wider, and a part of the heart's fall is faster.
const singleTausS = [12, 16, 21, 28, 37, 50, 66, 88, 120, 180];
const usualTauS = 55;
const logTauSpread = 0.7;

// After hard work a fast fall goes over into a slow one: see `recovery-fit`.
const fastTausS = [12, 17, 24, 34];
const slowTausS = [120, 300];
const slowParts = [0.3, 0.55];
const pairsShare = 1 / 3;

// The rate may stay flat for 10 to 20 s after stopping, and a strap is up to 3 s late.
const onsetStepS = 2.5;
const longestOnsetS = 25;
const usualOnsetS = 14;

/** A strap's reading is a mean over some seconds. */
const smoothedOverS = [2, 7];

const fall = (t: number, tauS: number) => (t > 0 ? 1 - Math.exp(-t / tauS) : 0);

function curveOf(
	fallAt: (sinceOnsetS: number) => number,
	onsetS: number,
	smoothS: number,
	weight: number
): RestCurve {
	const doneAt = new Float64Array(60);
	for (let second = 0; second < 60; second++) {
		for (let k = 0; k < smoothS; k++) {
			doneAt[second]! += fallAt(second + 0.5 + (smoothS - 1) / 2 - k - onsetS) / smoothS;
		}
	}
	const share60 = doneAt.subarray(55).reduce((sum, each) => sum + each / 5, 0);
	return { doneAt: doneAt.map((each) => each / share60), share60, logWeight: Math.log(weight) };
}

function allCurves(): RestCurve[] {
	const kinetics: { fallAt: (t: number) => number; weight: number }[] = [];
	const unlikely = (tauS: number) => (Math.log(tauS / usualTauS) / logTauSpread) ** 2;
	const singleWeights = singleTausS.map((tauS) => Math.exp(-0.5 * unlikely(tauS)));
	const sum = singleWeights.reduce((a, b) => a + b, 0);
	singleTausS.forEach((tauS, i) =>
		kinetics.push({ fallAt: (t) => fall(t, tauS), weight: ((1 - pairsShare) * singleWeights[i]!) / sum })
	);
	const pairs = fastTausS.flatMap((fastS) =>
		slowTausS.flatMap((slowS) => slowParts.map((slowPart) => ({ fastS, slowS, slowPart })))
	);
	for (const { fastS, slowS, slowPart } of pairs) {
		const fallAt = (t: number) => (1 - slowPart) * fall(t, fastS) + slowPart * fall(t, slowS);
		kinetics.push({ fallAt, weight: pairsShare / pairs.length });
	}
	const curves: RestCurve[] = [];
	for (const { fallAt, weight } of kinetics) {
		for (let onsetS = 0; onsetS <= longestOnsetS; onsetS += onsetStepS) {
			for (const smoothS of smoothedOverS) {
				curves.push(curveOf(fallAt, onsetS, smoothS, weight * Math.exp(-onsetS / usualOnsetS)));
			}
		}
	}
	return curves;
}

let made: readonly RestCurve[] | undefined;

/**
 * Every course that a forecast holds against the readings: flat for 0 to 25 s, then one exponential of 12 to 180 s or
 * a fast one and a slow one together, smoothed as by a strap. Own rule. Made once, when first asked for.
 *
 * @example restCurves().length // 572
 */
export const restCurves = (): readonly RestCurve[] => (made ??= allCurves());
