import { artefactShareOf, type CleanIntervals } from './rr-intervals';
import { scalingWindows, type ScalingWindow } from './short-term-scaling';

/** Straight line of alpha-1 over heart rate. */
export interface ScalingLine {
	/** Change of alpha-1 with each bpm; negative. */
	slopePerBpm: number;
	/** Alpha-1 at 0 bpm, where the line is only drawn from. */
	intercept: number;
	/** Share of the variance explained, 0.5 to 1. */
	r2: number;
	/** Windows on which it rests; those that share beats are not independent. */
	windowCount: number;
	/** Lowest and highest mean rate of these windows, bpm. */
	fromBpm: number;
	toBpm: number;
}

/** A second opinion on the threshold, out of the RR intervals of a rising effort. */
export interface ScalingThresholds {
	/** Rate at which alpha-1 falls through 0.75, bpm, unrounded. */
	aerobicBpm?: number;
	/** Rate at which alpha-1 falls through 0.5, bpm, unrounded. */
	anaerobicBpm?: number;
	/** The line on which both lie. */
	line?: ScalingLine;
	/** Share of the effort's beats that were bad, 0 to 1; undefined without any. */
	artefactShare: number | undefined;
	confidence: 'fair' | 'low' | 'none';
	/** Why a rate is withheld or the confidence is not fair, in sentences for the page. */
	reasons: string[];
}

type Usable = ScalingWindow & { alpha1: number };

const aerobicAlpha = 0.75;
const anaerobicAlpha = 0.5;
const cautionShare = 0.03;
const greatestShare = 0.05;
const leastWindows = 60;
const leastRiseBpm = 20;
const leastRampR = 0.9;
const fallFrom = 1;
const fallTo = anaerobicAlpha;
const smoothingMs = 60_000;
const leastFallWindows = 24;
const leastFallBpm = 10;
const greatestFallR = -0.7;
const leastR2 = 0.5;
const fairR2 = 0.7;

/**
 * Heart rates, in bpm, at which alpha-1 falls through 0.75 (near the aerobic threshold: Rogers et al., Front
 * Physiol 2021;11:596567) and 0.5 (possibly near the anaerobic one: Rogers et al., J Funct Morphol Kinesiol
 * 2021;6:38, from memory) in a steadily rising effort: a ramp, or a run whose pace is raised in steps. An estimate
 * beside the run's own result, never instead of it.
 *
 * Method: alpha-1 in moving windows of two minutes (`scalingWindows`: all residuals, smoothness priors), least
 * squares of alpha-1 on the windows' mean rate over the falling part, and the rate at which that line has the
 * value (regression over the falling part: from memory). Own rules: the falling part runs from the last time the
 * one-minute mean of alpha-1 is at 1.0 or more, else its highest, to the first time after it that it is below 0.5,
 * else its lowest; a value counts as crossed where that mean lies on either side of it at the two ends, and the
 * line meets it at a rate that was reached.
 *
 * Withheld, with the reason: over 5 % bad beats; under 60 windows; not a ramp (the windows' mean rate rises by
 * under 20 bpm along its line over time, or correlates with time under 0.9); no clear fall (alpha-1 correlates
 * with rate above -0.7 over the whole effort; the falling part has under 24 windows, 10 bpm, or r2 < 0.5); no
 * crossing. Low confidence: from 3 % bad beats, a fall that begins below 1.0, r2 < 0.7.
 * The shares of 3 and 5 % are the usual caution; a review finds little bias under 3 % (Rogers & Gronwald, Front
 * Physiol 2022;13:879071). The rest is own rule.
 *
 * Error: at 0.75 r 0.97 with the ventilatory threshold and 154 against 152 bpm in 15 men running (Rogers 2021);
 * elsewhere 151 against 141 bpm with a spread of 16, and 168 against 169 at the second threshold (Eronen et al.,
 * medRxiv 2024.08.14.24311967). White noise reads 0.58 in these boxes, so 0.5 already means intervals that
 * alternate a little. On simulated ramps of 12 to 24 minutes whose exponents are known the method itself is off by
 * 2 bpm at 0.75 and 3 bpm at 0.5 (SD, bias under 2); abrupt steps of the pace read up to 5 bpm high. Rate lags behind
 * effort, so a fast ramp smears both.
 * Arm work and impacts lie outside every validation.
 *
 * @param clean intervals of the session, or of more than the effort
 * @param fromMs start of the effort, ms, on the clock of the readings; warming up at a rising rate belongs to it
 * @param toMs its end, before the cool-down
 * @example thresholdsFromScaling(clean, 0, 1_500_000).aerobicBpm // 149.6
 */
export function thresholdsFromScaling(
	clean: CleanIntervals,
	fromMs: number,
	toMs: number
): ScalingThresholds {
	const isInside = ({ ms }: { ms: number }) => ms >= fromMs && ms < toMs;
	const artefactShare = artefactShareOf(clean.intervals.filter(isInside));
	const withheld = (reason: string): ScalingThresholds => ({
		artefactShare,
		confidence: 'none',
		reasons: [reason]
	});
	if (artefactShare === undefined) return withheld('No RR intervals came: this strap may not send them.');
	const percent = Math.round(1000 * artefactShare) / 10;
	if (artefactShare > greatestShare) {
		return withheld(
			`${percent} % of the beats were bad, and up to 5 % are allowed. Wet the strap and pull it tighter.`
		);
	}

	const windows = scalingWindows({ corrected: clean.corrected.filter(isInside) }).filter(isUsable);
	if (windows.length < leastWindows) {
		return withheld(
			`Of windows of two unbroken minutes ${windows.length} could be read, and ${leastWindows} are needed: seven minutes of effort without a gap.`
		);
	}
	if (!isRamp(windows)) {
		return withheld(
			'The heart rate did not rise steadily by 20 bpm or more; this needs a ramp, or a run with rising pace.'
		);
	}
	const smoothed = minuteMeans(windows);
	const fall = fallOf(smoothed);
	const line = isFalling(windows) ? lineOf(windows.slice(fall.from, fall.to + 1)) : undefined;
	if (!line) return withheld('Alpha-1 did not fall clearly as the heart rate rose.');

	const result: ScalingThresholds = { line, artefactShare, confidence: 'fair', reasons: [] };
	const highestBpm = Math.max(...windows.map((each) => each.meanRateBpm));
	const lowestBpm = Math.min(...windows.map((each) => each.meanRateBpm));
	const crossing = (alpha: number): number | undefined => {
		const bpm = (alpha - line.intercept) / line.slopePerBpm;
		const isCrossed = smoothed[fall.from]! >= alpha && smoothed[fall.to]! < alpha;
		if (isCrossed && bpm >= lowestBpm && bpm <= highestBpm) return bpm;
		result.reasons.push(`Alpha-1 did not clearly cross ${alpha} inside this effort.`);
		return undefined;
	};
	result.aerobicBpm = crossing(aerobicAlpha);
	result.anaerobicBpm = crossing(anaerobicAlpha);
	if (result.aerobicBpm === undefined && result.anaerobicBpm === undefined) {
		return { ...result, confidence: 'none' };
	}

	const doubts: string[] = [];
	if (artefactShare >= cautionShare) doubts.push(`${percent} % of the beats were bad and put right.`);
	if (smoothed[fall.from]! < fallFrom) {
		doubts.push('Alpha-1 was below 1.0 from the start: the effort began too hard to see the whole fall.');
	}
	if (line.r2 < fairR2) doubts.push('Alpha-1 scattered widely about its fall.');
	result.reasons.push(...doubts);
	if (doubts.length > 0) result.confidence = 'low';
	return result;
}

function isUsable(window: ScalingWindow): window is Usable {
	return window.alpha1 !== undefined;
}

function isRamp(windows: readonly Usable[]): boolean {
	const times = windows.map((each) => each.fromMs);
	const { slope, r } = regress(
		times,
		windows.map((each) => each.meanRateBpm)
	);
	return slope * (times.at(-1)! - times[0]!) >= leastRiseBpm && r >= leastRampR;
}

/** Does alpha-1 fall over the effort as a whole? The falling part alone would find a fall in any noise. */
function isFalling(windows: readonly Usable[]): boolean {
	const { r } = regress(
		windows.map((each) => each.meanRateBpm),
		windows.map((each) => each.alpha1)
	);
	return r <= greatestFallR;
}

/** Mean of alpha-1 over the windows that begin within half a minute on either side. */
function minuteMeans(windows: readonly Usable[]): number[] {
	return windows.map(({ fromMs }) => {
		const near = windows.filter((each) => Math.abs(each.fromMs - fromMs) <= smoothingMs / 2);
		return near.reduce((sum, each) => sum + each.alpha1, 0) / near.length;
	});
}

/** First and last window of the falling part. Its ends come from the smoothed course, so that they do not pick windows by their scatter. */
function fallOf(smoothed: readonly number[]): { from: number; to: number } {
	let from = smoothed.findLastIndex((alpha) => alpha >= fallFrom);
	if (from < 0) from = smoothed.indexOf(Math.max(...smoothed));
	const after = smoothed.slice(from);
	const below = after.findIndex((alpha) => alpha < fallTo);
	return { from, to: from + (below >= 0 ? below : after.indexOf(Math.min(...after))) };
}

function lineOf(falling: readonly Usable[]): ScalingLine | undefined {
	if (falling.length < leastFallWindows) return undefined;
	const rates = falling.map((each) => each.meanRateBpm);
	const fromBpm = Math.min(...rates);
	const toBpm = Math.max(...rates);
	if (toBpm - fromBpm < leastFallBpm) return undefined;
	const { slope, intercept, r } = regress(
		rates,
		falling.map((each) => each.alpha1)
	);
	if (!(slope < 0) || !(r ** 2 >= leastR2)) return undefined;
	return { slopePerBpm: slope, intercept, r2: r ** 2, windowCount: falling.length, fromBpm, toBpm };
}

function regress(x: readonly number[], y: readonly number[]) {
	const meanX = x.reduce((sum, each) => sum + each, 0) / x.length;
	const meanY = y.reduce((sum, each) => sum + each, 0) / y.length;
	let sxx = 0;
	let sxy = 0;
	let syy = 0;
	for (let i = 0; i < x.length; i++) {
		sxx += (x[i]! - meanX) ** 2;
		sxy += (x[i]! - meanX) * (y[i]! - meanY);
		syy += (y[i]! - meanY) ** 2;
	}
	const slope = sxy / sxx;
	return { slope, intercept: meanY - slope * meanX, r: sxy / Math.sqrt(sxx * syy) };
}
