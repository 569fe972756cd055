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

/**
 * The range with its high end as the figure: where food hangs on what training cost, because eating too little does
 * more harm than eating a little too much (own rule).
 *
 * @example atHighEnd({ low: 295, value: 402, high: 509 }) // 295, 509, 509
 */
export function atHighEnd({ low, high }: Range): Range {
	return { low, value: high, high };
}
