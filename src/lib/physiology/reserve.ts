import { isPlausibleBpm } from './grid';

/** One of the published bands of intensity, as a range of rates. */
export interface ReferenceBand {
	name: 'moderate' | 'vigorous' | 'near maximal';
	/** Where it begins, bpm, unrounded. */
	lowBpm: number;
	/** Its upper printed per cent, bpm, unrounded; what lies between two bands belongs to the lower one. */
	highBpm: number;
}

/**
 * Share of the heart-rate reserve at a rate: (rate - rest) / (maximum - rest). Under 0 below the resting rate,
 * over 1 above the maximum.
 *
 * Error: mostly that of the maximum. With one estimated from age (SD about 10 bpm), 150 bpm is 0.69 of a
 * reserve from 60 to 190 but may be 0.64 to 0.75 (computed).
 *
 * Source: Karvonen, Kentala, Mustala, Ann Med Exp Biol Fenn 1957;35:307-315.
 *
 * @param bpm 30 to 240
 * @param restBpm resting rate, 30 to 240 and under the maximum
 * @param maxBpm maximum, 30 to 240
 * @returns undefined outside these ranges, and for a gap
 * @example shareOfReserve(130, 70, 190) // 0.5
 */
export function shareOfReserve(bpm: number, restBpm: number, maxBpm: number): number | undefined {
	if (!isPlausibleBpm(bpm) || !isReserve(restBpm, maxBpm)) return undefined;
	return (bpm - restBpm) / (maxBpm - restBpm);
}

/**
 * Target rate at a share of the heart-rate reserve, bpm, unrounded: rest + share x (maximum - rest).
 *
 * Error: the share times that of the maximum, so 7 bpm at 0.7 with one estimated from age (SD about 10), and
 * the rest of it times that of the resting rate.
 *
 * Source: Karvonen, Kentala, Mustala, Ann Med Exp Biol Fenn 1957;35:307-315.
 *
 * @param share 0 to 1
 * @param restBpm resting rate, 30 to 240 and under the maximum
 * @param maxBpm maximum, 30 to 240
 * @returns undefined outside these ranges
 * @example targetFromReserve(0.5, 70, 190) // 130
 */
export function targetFromReserve(share: number, restBpm: number, maxBpm: number): number | undefined {
	if (!(share >= 0 && share <= 1) || !isReserve(restBpm, maxBpm)) return undefined;
	return restBpm + share * (maxBpm - restBpm);
}

/**
 * The bands of the American College of Sports Medicine by share of the reserve, in bpm: moderate 40 to 59 %,
 * vigorous 60 to 89 %, near maximal from 90 %. For reference beside the page's own bands, which go by the
 * threshold (`bandOf`). Made for the health of adults in general, not for training boxers; error as for
 * `targetFromReserve`.
 *
 * Source: Garber et al., Med Sci Sports Exerc 2011;43:1334-59.
 *
 * @param restBpm resting rate, 30 to 240 and under the maximum
 * @param maxBpm maximum, 30 to 240
 * @returns undefined outside these ranges
 * @example bandsByReserve(70, 190)?.[0] // moderate, 118 to 140.8
 */
export function bandsByReserve(restBpm: number, maxBpm: number): ReferenceBand[] | undefined {
	if (!isReserve(restBpm, maxBpm)) return undefined;
	const at = (percent: number) => restBpm + (percent * (maxBpm - restBpm)) / 100;
	return [
		{ name: 'moderate', lowBpm: at(40), highBpm: at(59) },
		{ name: 'vigorous', lowBpm: at(60), highBpm: at(89) },
		{ name: 'near maximal', lowBpm: at(90), highBpm: maxBpm }
	];
}

/**
 * The same bands by share of the maximum, in bpm: moderate 64 to 76 %, vigorous 77 to 95 %, near maximal from
 * 96 %. They need no resting rate and so fit single people less well. Error: the share times that of the
 * maximum.
 *
 * Source: Garber et al., Med Sci Sports Exerc 2011;43:1334-59.
 *
 * @param maxBpm maximum, 30 to 240
 * @returns undefined outside this range
 * @example bandsByMaximum(190)?.[0] // moderate, 121.6 to 144.4
 */
export function bandsByMaximum(maxBpm: number): ReferenceBand[] | undefined {
	if (!isPlausibleBpm(maxBpm)) return undefined;
	const at = (percent: number) => (percent * maxBpm) / 100;
	return [
		{ name: 'moderate', lowBpm: at(64), highBpm: at(76) },
		{ name: 'vigorous', lowBpm: at(77), highBpm: at(95) },
		{ name: 'near maximal', lowBpm: at(96), highBpm: maxBpm }
	];
}

function isReserve(restBpm: number, maxBpm: number): boolean {
	return isPlausibleBpm(restBpm) && isPlausibleBpm(maxBpm) && restBpm < maxBpm;
}
