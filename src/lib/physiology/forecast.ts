import { meanOf, type Seconds } from './grid';
import { peakOf } from './recovery';

/** The drop at 60 as it will probably turn out, bpm, unrounded; `low` to `high` holds it in four of five rests. */
export interface Drop60Forecast {
	drop60: number;
	low: number;
	high: number;
}

interface Line {
	drop60: number;
	amplitudeBpm: number;
	/** Standard deviation of the readings about the curve, bpm. */
	residualBpm: number;
	/** How far the readings leave the rate at 60 open, in units of their variance. */
	leverage: number;
	/** Seconds from the last reading to second 60. */
	aheadS: number;
}

const fromSecond = 20;
const leastReadings = 10;
const widestBpm = 16;

// Own rule, for an athlete of whom no recovery of 3 minutes is on file.
const usualTauS = 60;
// A weak pull towards a usual amplitude, worth one reading of a curve that has fallen by a twelfth. It keeps the
// first seconds of a fall, which hardly tell amplitude from onset, from promising a drop of 200.
const usualAmplitudeBpm = 65;
const pull = 0.007;

// The interval's parts were fitted to simulated rests (tau 30 to 120 s, amplitude 30 to 90 bpm, flat for 0 to
// 20 s, noise of 0.3 to 2 bpm, a strap's smoothing) so that 80 % of the drops fall inside from second 20 to 59.
// Far from these it is less: about 70 % at second 20 for amplitudes up to 110. In order: readings off the
// curve, carried forward; another tau (tried at `otherTau` times and by it); noise of the last window itself;
// and what no curve knows, as a share of the amplitude for each second still to come.
const openPart = 5.1;
const otherTau = 1.3;
const ownTauPart = 0.6;
const usualTauPart = 1.6;
const noisePart = 1.2;
const unknownShare = 0.0012;
// Rates come in whole beats, so that a curve never fits better than this.
const leastResidualBpm = 0.4;

/**
 * Forecasts the drop at 60 while the rest runs, from second 20 on, with an interval that holds it in about 80 %
 * of rests (75 to 85 % on simulated rests at seconds 20, 30 and 45). The curve is flat from the later of peak
 * and bell to an onset within 20 s of the bell, then exponential with tau fixed to the athlete's own, or to
 * 60 s; level, amplitude and onset are fitted. Own rule.
 *
 * @param seconds a grid that reaches 10 s back before the bell
 * @param bellS the grid second of the bell, whole
 * @param nowS the grid second reached; entries from here on are not read
 * @param prior `tauS`: the athlete's own time constant, 5 to 600 s, from recoveries of 180 s or more
 * @param widest refuse an interval as wide as this, bpm
 * @returns undefined before second 20, from second 60 on, without a bell rate, under 10 readings since the
 *   bell, and while the interval is too wide to be shown
 * @example forecastDrop60(grid, 10, 40, { tauS: 55 }) // 41.2, low 37, high 45.4
 */
export function forecastDrop60(
	seconds: Seconds,
	bellS: number,
	nowS: number,
	prior: { tauS?: number } = {},
	widest = widestBpm
): Drop60Forecast | undefined {
	const reachedS = Math.min(nowS, seconds.length);
	if (!(nowS - bellS >= fromSecond && nowS - bellS < 60)) return undefined;
	const bellBpm = meanOf(seconds, bellS - 5, bellS, 3);
	if (bellBpm === undefined) return undefined;

	const hasOwn = prior.tauS !== undefined && prior.tauS >= 5 && prior.tauS <= 600;
	const tauS = hasOwn ? prior.tauS! : usualTauS;
	const lineFor = (tau: number) => fitLine(seconds, bellS, reachedS, bellBpm, tau);
	const line = lineFor(tauS);
	const slower = lineFor(tauS * otherTau);
	const faster = lineFor(tauS / otherTau);
	if (!line || !slower || !faster) return undefined;

	const residual = Math.max(leastResidualBpm, line.residualBpm);
	const open = openPart * residual * Math.sqrt(line.leverage * Math.min(1, line.aheadS / 10));
	const tauOpen = ((hasOwn ? ownTauPart : usualTauPart) * (slower.drop60 - faster.drop60)) / 2;
	const half = Math.hypot(
		open,
		tauOpen,
		noisePart * residual,
		unknownShare * line.amplitudeBpm * line.aheadS
	);
	if (!(2 * half < widest)) return undefined;
	return { drop60: line.drop60, low: line.drop60 - half, high: line.drop60 + half };
}

/** The best of all onsets, each with linear least squares for level and amplitude. */
function fitLine(
	seconds: Seconds,
	bellS: number,
	nowS: number,
	bellBpm: number,
	tauS: number
): Line | undefined {
	const fromS = Math.max(bellS, peakOf(seconds, bellS, nowS)?.atS ?? bellS);
	const times: number[] = [];
	const rates: number[] = [];
	let sinceBell = 0;
	for (let i = bellS; i < nowS; i++) {
		if (Number.isNaN(seconds[i]!)) continue;
		sinceBell++;
		if (i < fromS) continue;
		times.push(i);
		rates.push(seconds[i]!);
	}
	if (sinceBell < leastReadings || times.length === 0) return undefined;
	const n = times.length;
	const lastS = times[n - 1]!;
	const meanRate = rates.reduce((sum, rate) => sum + rate, 0) / n;

	let best: Line | undefined;
	let leastCost = Infinity;
	for (let onsetS = fromS; onsetS <= Math.min(bellS + 20, lastS); onsetS++) {
		const fallenAt = (i: number) => (i < onsetS ? 0 : 1 - Math.exp(-(i - onsetS) / tauS));
		let meanFallen = 0;
		for (const time of times) meanFallen += fallenAt(time) / n;
		let sxx = 0;
		let sxy = 0;
		let syy = 0;
		for (let k = 0; k < n; k++) {
			const x = fallenAt(times[k]!) - meanFallen;
			const y = meanRate - rates[k]!;
			sxx += x * x;
			sxy += x * y;
			syy += y * y;
		}
		const amplitude = (sxy + pull * usualAmplitudeBpm) / (sxx + pull);
		const sse = Math.max(0, syy - 2 * amplitude * sxy + amplitude ** 2 * sxx);
		const cost = sse + pull * (amplitude - usualAmplitudeBpm) ** 2;
		if (cost >= leastCost) continue;
		leastCost = cost;

		const level = meanRate + amplitude * meanFallen;
		let rate60 = 0;
		let fallen60 = 0;
		for (let i = bellS + 55; i < bellS + 60; i++) {
			const known = i < nowS ? seconds[i]! : NaN;
			rate60 += (Number.isNaN(known) ? level - amplitude * fallenAt(i) : known) / 5;
			fallen60 += fallenAt(i) / 5;
		}
		best = {
			drop60: bellBpm - rate60,
			amplitudeBpm: amplitude,
			residualBpm: Math.sqrt(sse / n),
			leverage: (fallen60 - meanFallen) ** 2 / (sxx + pull) + 1 / n,
			aheadS: bellS + 59 - lastS
		};
	}
	return best;
}
