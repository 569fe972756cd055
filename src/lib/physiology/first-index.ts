/**
 * Index of the first item that `isReached`, by halves; the list's length where there is none.
 *
 * @param items in such an order that once one is reached, all behind it are
 * @example firstIndex([1, 3, 3, 5], (item) => item > 3) // 3
 */
export function firstIndex<T>(items: readonly T[], isReached: (item: T) => boolean): number {
	let low = 0;
	let high = items.length;
	while (low < high) {
		const middle = (low + high) >>> 1;
		if (isReached(items[middle]!)) high = middle;
		else low = middle + 1;
	}
	return low;
}
