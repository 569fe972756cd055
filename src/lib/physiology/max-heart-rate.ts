import type { Seconds } from './grid';

/** One published regression of maximum heart rate on age. */
export interface MaxHeartRateFormula {
	/** The formula as it is printed, for the page. */
	formula: string;
	/** For whom it was found. */
	population: string;
	/** The athlete's estimate, bpm, unrounded. */
	bpm: number;
	/** Standard deviation of single people about the estimate, bpm. */
	errorBpm: number;
	source: string;
}

/** What age alone tells of a maximum: a range, never a fact. */
export interface MaxHeartRateEstimate {
	/** The default estimate (208 - 0.7 age), bpm, unrounded. */
	bpm: number;
	/** One standard deviation of single people about it, bpm. */
	errorBpm: number;
	/** The lowest of all formulas less its error, bpm. */
	lowBpm: number;
	/** The highest of all formulas plus its error, bpm. */
	highBpm: number;
	formulas: MaxHeartRateFormula[];
	/** True below 18 and above 81 years, where the default regression was not made. */
	isExtrapolated: boolean;
}

const youngestYears = 8;
const oldestYears = 100;
// The ages in the laboratory sample of Tanaka et al. 2001 (from memory).
const studiedFromYears = 18;
const studiedToYears = 81;

/**
 * Maximum heart rate estimated from age, in bpm, by every published formula of the methods list.
 *
 * The default is 208 - 0.7 age: it rests on by far the most people (351 studies, 18 712 people) and both
 * sexes, while 220 - age never came from a regression and reads low beyond the age of 40. Errors are standard
 * deviations of single people, 10 to 12 bpm; where a source prints none, the 11 bpm at the upper end of
 * Robergs & Landwehr, JEPonline 2002;5(2):1-10 stand in.
 *
 * Sources: Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156. Fox, Naughton, Haskell, Ann Clin Res
 * 1971;3:404-432. Gellish et al., Med Sci Sports Exerc 2007;39:822-829. Gulati et al., Circulation
 * 2010;122:130-137 (women; its error from memory).
 *
 * @param ageYears 8 to 100
 * @param sex the formula for women is left out for men
 * @returns undefined for an age outside the valid range
 * @example maxHeartRateFromAge(30)?.bpm // 187
 */
export function maxHeartRateFromAge(
	ageYears: number,
	sex?: 'female' | 'male'
): MaxHeartRateEstimate | undefined {
	if (!(ageYears >= youngestYears && ageYears <= oldestYears)) return undefined;
	const standard: MaxHeartRateFormula = {
		formula: '208 - 0.7 age',
		population: '18 712 people of both sexes in 351 studies',
		bpm: 208 - 0.7 * ageYears,
		errorBpm: 10,
		source: 'Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156'
	};
	const formulas: MaxHeartRateFormula[] = [
		standard,
		{
			formula: '220 - age',
			population: 'not from a regression',
			bpm: 220 - ageYears,
			errorBpm: 12,
			source: 'Fox, Naughton, Haskell, Ann Clin Res 1971;3:404-432'
		},
		{
			formula: '206.9 - 0.67 age',
			population: '132 people, 908 tests over years',
			bpm: 206.9 - 0.67 * ageYears,
			errorBpm: 11,
			source: 'Gellish et al., Med Sci Sports Exerc 2007;39:822-829'
		}
	];
	if (sex !== 'male') {
		formulas.push({
			formula: '206 - 0.88 age',
			population: '5437 women',
			bpm: 206 - 0.88 * ageYears,
			errorBpm: 12,
			source: 'Gulati et al., Circulation 2010;122:130-137'
		});
	}
	return {
		bpm: standard.bpm,
		errorBpm: standard.errorBpm,
		lowBpm: Math.min(...formulas.map((each) => each.bpm - each.errorBpm)),
		highBpm: Math.max(...formulas.map((each) => each.bpm + each.errorBpm)),
		formulas,
		isExtrapolated: ageYears < studiedFromYears || ageYears > studiedToYears
	};
}

const windowS = 5;
const cleanMarginS = 5;
const largestStepBpm = 8;

/**
 * A rate above the maximum on file that may be offered to the athlete as a new one, in bpm: the highest mean
 * of 5 s in a clean trace, rounded. Clean means that these 5 s and the 5 s on either side have no gap and no
 * step of more than 8 bpm from one second to the next (own rule): artefacts of a dry strap come as jumps.
 * Never take it silently: in Semin et al., J Sports Sci Med 2008;7:455-460, runners exceeded their laboratory
 * maximum, 207 against 194, and strap artefact is likely among them.
 *
 * @param knownMaxBpm the maximum on file, 30 to 240
 * @returns undefined where nothing cleanly exceeds it by a whole beat
 * @example higherMaximum(new Float64Array(20).fill(196), 190) // 196
 */
export function higherMaximum(seconds: Seconds, knownMaxBpm: number): number | undefined {
	let best = -Infinity;
	let cleanS = 0;
	const neededS = windowS + 2 * cleanMarginS;
	for (let i = 0; i < seconds.length; i++) {
		const bpm = seconds[i]!;
		const isFirst = cleanS === 0;
		if (Number.isNaN(bpm)) cleanS = 0;
		else cleanS = isFirst || Math.abs(bpm - seconds[i - 1]!) <= largestStepBpm ? cleanS + 1 : 1;
		if (cleanS < neededS) continue;
		let sum = 0;
		for (let j = i - cleanMarginS - windowS + 1; j <= i - cleanMarginS; j++) sum += seconds[j]!;
		best = Math.max(best, sum / windowS);
	}
	const offered = Math.round(best);
	return offered >= Math.round(knownMaxBpm) + 1 ? offered : undefined;
}
