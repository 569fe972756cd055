/** A figure with the ends between which it is taken to lie; low <= value <= high, all in one unit. */
export interface Range {
	low: number;
	value: number;
	high: number;
}

/**
 * The sum of ranges, end by end: errors are taken to fall the same way, which is the cautious reading.
 *
 * @example sumOf([{ low: 1, value: 2, high: 3 }, { low: 1, value: 1, high: 2 }]) // 2, 3, 5
 */
export function sumOf(ranges: readonly Range[]): Range {
	return ranges.reduce(
		(sum, { low, value, high }) => ({ low: sum.low + low, value: sum.value + value, high: sum.high + high }),
		{ low: 0, value: 0, high: 0 }
	);
}
