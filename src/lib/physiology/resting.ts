import type { Answer } from './answer';
import { coverageOf, meanOf, type Seconds } from './grid';

/** A resting rate as it was measured. */
export interface RestingRate {
	/** Mean of the quietest minute, bpm, unrounded. */
	bpm: number;
	/** The grid second at which that minute begins. */
	atS: number;
	/** Share of the four searched minutes that has a reading, 0 to 1. */
	coverage: number;
}

/** Length of the guided quiet time, s. */
export const quietTimeS = 300;

/** The first part of it, in which the heart settles, s. */
export const settlingS = 60;
/** The length of a mean, s, and the readings it needs. */
export const minuteS = 60;
export const leastInMinute = 54;

/**
 * Resting heart rate, in bpm: the lowest mean of 60 s, with 54 readings or more, in five quiet minutes without
 * the first, in which the heart settles; the first of equals. Own rule: no published protocol names this
 * window.
 *
 * Valid for one posture, which is stored with it: compare lying only with lying and sitting only with sitting.
 * Error: none is published for this window, and the lowest of many means lies a little under the mean of the
 * four minutes. From day to day it wanders by some beats, now and then by 10 or more (Quer et al., PLoS ONE
 * 2020;15:e0227709, worn sensors, 92 457 adults): go by the mean of 7 days. Medicine that slows the heart makes
 * it that medicine's rate.
 *
 * @param fromS the grid second at which the quiet time begins, whole, 0 or more
 * @returns the reason where the five minutes are not over or no minute has enough readings
 * @example restingRate(new Float64Array(300).fill(58), 0).value // 58 bpm, at second 60
 */
export function restingRate(seconds: Seconds, fromS: number): Answer<RestingRate> {
	const endS = fromS + quietTimeS;
	if (!(fromS >= 0 && endS <= seconds.length)) {
		return { reason: 'The five quiet minutes are not over: sit or lie still to their end.' };
	}
	const searchFromS = fromS + settlingS;
	let bpm = Infinity;
	let atS = searchFromS;
	for (let startS = searchFromS; startS + minuteS <= endS; startS++) {
		const mean = meanOf(seconds, startS, startS + minuteS, leastInMinute) ?? Infinity;
		if (mean >= bpm) continue;
		bpm = mean;
		atS = startS;
	}
	if (bpm === Infinity) {
		return {
			reason: `No minute has ${leastInMinute} readings of ${minuteS}: wet the strap, sit still and measure again.`
		};
	}
	return { value: { bpm, atS, coverage: coverageOf(seconds, searchFromS, endS) ?? 0 } };
}
