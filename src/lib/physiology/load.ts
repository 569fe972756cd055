import type { Answer } from './answer';
import type { Seconds } from './grid';
import { shareOfReserve } from './reserve';

/** What Banister's impulse needs of an athlete. */
export interface LoadFacts {
	sex?: 'female' | 'male';
	/** Resting rate, bpm. */
	restBpm?: number;
	/** Maximum, bpm; a measured one, or an estimate whose error the page shows. */
	maxBpm?: number;
}

/** A training load over the seconds that have a reading. */
export interface HeartRateLoad {
	/** In the arbitrary units of the method, unrounded. */
	load: number;
	/** How many seconds have a reading and are counted. */
	countedS: number;
	/** Share of the seconds that have a reading, 0 to 1. */
	coverage: number;
}

/** The loads of seven days, taken together; in the unit of the loads given. */
export interface WeekOfLoads {
	/** Sum of the days; undefined where a day's load is unknown. */
	weeklyLoad?: number;
	/** Mean daily load / SD (n - 1); undefined where it is unknown or all days are equal. */
	monotony?: number;
	/** Weekly load x monotony. */
	strain?: number;
	/** Why something is missing, in a sentence for the page. */
	reason?: string;
}

/**
 * Banister's training impulse, in its arbitrary units: minutes x share x 0.64 exp(1.92 share) for men, x 0.86
 * exp(1.67 share) for women, where share is that of the heart-rate reserve, at least 0 and not cut off above 1.
 *
 * It is summed second by second, not taken of the mean rate: the weighting is convex, so that the mean
 * under-reads intervals (by 9 % in 6 x (3 min at 180 + 1 min at 130 bpm), computed). Loads of two stretches
 * therefore add up. Some texts misprint e as 2.712. Gaps are not counted (own rule, as in `energyOf`).
 *
 * Error: none is published for a single load; 60 minutes at 150 bpm of a man with a resting rate of 60 are 100,
 * but 85 to 122 where the maximum of 190 is off by 10 bpm, the SD of an estimate from age (computed). Compare
 * loads of one athlete that were made with the same maximum.
 *
 * Source: Morton, Fitz-Clarke, Banister, J Appl Physiol 1990;69:1171-7.
 *
 * @param seconds the stretch to be counted and nothing else
 * @param athlete resting rate and maximum of 30 to 240 bpm, the first under the second
 * @returns the reason where a fact is missing or impossible, or no second has a reading
 * @example
 * const hour = new Float64Array(3600).fill(150);
 * banisterLoad(hour, { sex: 'male', restBpm: 60, maxBpm: 190 }).value?.load // 100.44
 */
export function banisterLoad(seconds: Seconds, athlete: LoadFacts): Answer<HeartRateLoad> {
	const { sex, restBpm, maxBpm } = athlete;
	if (sex === undefined) {
		return { reason: 'The sex is not given, and the weightings for women and men differ: enter it.' };
	}
	if (restBpm === undefined) return { reason: 'No resting rate is known: measure it.' };
	if (maxBpm === undefined) return { reason: 'No maximum is known: enter one, or the year of birth.' };
	if (shareOfReserve(restBpm, restBpm, maxBpm) === undefined) {
		return {
			reason: `A resting rate of ${restBpm} and a maximum of ${maxBpm} bpm cannot both be true: correct them.`
		};
	}
	const [factor, exponent] = sex === 'male' ? [0.64, 1.92] : [0.86, 1.67];
	let load = 0;
	let countedS = 0;
	for (const bpm of seconds) {
		const share = shareOfReserve(bpm, restBpm, maxBpm);
		if (share === undefined) continue;
		countedS++;
		if (share > 0) load += (share * factor * Math.exp(exponent * share)) / 60;
	}
	if (countedS === 0) return { reason: 'No second has a heart-rate reading: check the strap.' };
	return { value: { load, countedS, coverage: countedS / seconds.length } };
}

/**
 * Load of a session from the athlete's own rating, in arbitrary units: rating x minutes.
 *
 * Error: none is published for a single session. It followed a heart-rate score closely over sessions, on a
 * higher scale: never add it to, or compare it with, Banister's impulse. Ask about half an hour after the end.
 *
 * Source: Foster et al., J Strength Cond Res 2001;15:109-115.
 *
 * @param rating of the whole session, 0 (rest) to 10 (maximal)
 * @param minutes length of the whole session with its rests, 0 or more
 * @returns undefined outside these ranges
 * @example sessionRatingLoad(7, 60) // 420
 */
export function sessionRatingLoad(rating: number, minutes: number): number | undefined {
	if (!(rating >= 0 && rating <= 10) || !(minutes >= 0 && minutes < Infinity)) return undefined;
	return rating * minutes;
}

/**
 * Weekly load, monotony and strain. Monotony is the mean daily load over its standard deviation across the
 * seven days, rest days counting 0; strain is the weekly load times the monotony.
 *
 * The standard deviation is the sample's (n - 1): the source does not say which, and this one gives monotony
 * 7 % lower than the other. Equal days have no spread and so no monotony, which is not the same as a monotony
 * of 0. Error: that of the loads; no limit for single athletes is published that would hold for boxers.
 *
 * Source: Foster, Med Sci Sports Exerc 1998;30:1164-8.
 *
 * @param dailyLoads seven days in order, all of one kind of load, 0 or more; 0 for a rest day, undefined for
 *   one of which nothing is known, or that was trained and has no load
 * @throws RangeError where there are not seven days, or a load is negative or no finite number
 * @example weekOf([300, 0, 400, 200, 0, 500, 0]).monotony // 0.96
 */
export function weekOf(dailyLoads: readonly (number | undefined)[]): WeekOfLoads {
	if (dailyLoads.length !== 7) throw new RangeError(`A week has seven days, not ${dailyLoads.length}.`);
	const loads: number[] = [];
	for (const load of dailyLoads) {
		if (load === undefined) continue;
		if (!(load >= 0 && load < Infinity)) {
			throw new RangeError(`A daily load is 0 or more and finite, not ${load}.`);
		}
		loads.push(load);
	}
	if (loads.length < 7) {
		const count = 7 - loads.length;
		const days = count === 1 ? 'one day' : `${count} days`;
		return {
			reason: `The load of ${days} of the week is unknown: enter what was trained, how hard it felt, or a day of rest.`
		};
	}
	const weeklyLoad = loads.reduce((sum, load) => sum + load, 0);
	// Compared as they stand: their mean may miss equal loads by the last digit, and monotony would be huge.
	if (loads.every((load) => load === loads[0])) {
		return { weeklyLoad, reason: 'All seven days are equal: without a spread there is no monotony.' };
	}
	const mean = weeklyLoad / 7;
	const variance = loads.reduce((sum, load) => sum + (load - mean) ** 2, 0) / 6;
	const monotony = mean / Math.sqrt(variance);
	return { weeklyLoad, monotony, strain: weeklyLoad * monotony };
}
