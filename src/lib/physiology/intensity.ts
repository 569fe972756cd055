import type { Seconds } from './grid';

/** Share of the threshold heart rate, in words; told apart on the screen by pattern and position too. */
export type IntensityBand = 'easy' | 'working' | 'near the line' | 'over the line';

/** Seconds in each band, and seconds without a reading. */
export type TimeInBands = Record<IntensityBand | 'unknown', number>;

/**
 * The band in which a rate lies, by its share of the threshold: easy under 80 %, working 80 to under 90, near
 * the line 90 to under 100, over the line from 100 % on (own rule). Time over the threshold is counted
 * strictly above it (`overThreshold`), so the threshold itself is on the line and not counted there.
 *
 * @param bpm a rate, or NaN for a gap
 * @param thresholdBpm unrounded, more than 0
 * @returns undefined where either is unknown
 * @example bandOf(153, 170) // 'near the line'
 */
export function bandOf(bpm: number, thresholdBpm: number): IntensityBand | undefined {
	if (!Number.isFinite(bpm) || !(thresholdBpm > 0)) return undefined;
	// Multiplied out, so that a rate exactly on an edge is not lost to the rounding of a division.
	if (10 * bpm < 8 * thresholdBpm) return 'easy';
	if (10 * bpm < 9 * thresholdBpm) return 'working';
	return bpm < thresholdBpm ? 'near the line' : 'over the line';
}

/**
 * Seconds spent in each band over [fromS, toS) of a grid; what lies outside the grid is unknown.
 *
 * @param thresholdBpm unrounded, more than 0
 * @returns seconds; all together they are toS - fromS
 * @example timeInBands(Float64Array.of(130, 171, NaN), 0, 3, 170) // easy 1, over the line 1, unknown 1
 */
export function timeInBands(seconds: Seconds, fromS: number, toS: number, thresholdBpm: number): TimeInBands {
	const time: TimeInBands = { easy: 0, working: 0, 'near the line': 0, 'over the line': 0, unknown: 0 };
	for (let i = fromS; i < toS; i++) time[bandOf(seconds[i] ?? NaN, thresholdBpm) ?? 'unknown']++;
	return time;
}
