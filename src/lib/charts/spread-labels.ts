/**
 * Moves labels apart so that none covers another: the wanted positions in, positions at least `gap` apart out, in
 * the order given, within `from` and `to` as far as they fit there. Labels that do not touch stay where they are.
 */
export function spreadLabels(wanted: readonly number[], gap: number, from: number, to: number): number[] {
	const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]!);
	const placed: number[] = wanted.slice();
	let free = from;
	for (const i of order) {
		placed[i] = Math.max(wanted[i]!, free);
		free = placed[i]! + gap;
	}
	let limit = to;
	for (const i of order.reverse()) {
		placed[i] = Math.min(placed[i]!, limit);
		limit = placed[i]! - gap;
	}
	return placed;
}
