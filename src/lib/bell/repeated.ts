/**
 * A sound that is struck again before it has died away: each stroke is made once and laid over the ones before.
 *
 * @param againS when it is struck again, in s after the first stroke
 */
export function repeated(
	stroke: Float32Array,
	againS: readonly number[],
	sampleRate: number
): Float32Array<ArrayBuffer> {
	const starts = [0, ...againS.map((atS) => Math.round(atS * sampleRate))];
	const all = new Float32Array(Math.max(...starts) + stroke.length);
	for (const start of starts) stroke.forEach((sample, i) => void (all[start + i]! += sample));
	return all;
}
