/**
 * The value under which a share of sorted values lies, between two neighbours on a straight line (type 7 of Hyndman & Fan,
 * Am Stat 1996;50:361-365).
 *
 * @param sorted rising, at least one
 * @param share 0 to 1
 * @example quantileOf([1, 2, 4], 0.75) // 3
 */
export function quantileOf(sorted: ArrayLike<number>, share: number): number {
	const place = (sorted.length - 1) * share;
	const below = Math.floor(place);
	const upper = sorted[Math.min(below + 1, sorted.length - 1)]!;
	return sorted[below]! + (place - below) * (upper - sorted[below]!);
}
