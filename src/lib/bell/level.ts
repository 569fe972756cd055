/** Below this nothing is heard: -80 dB, the level at which an onset is measured. */
const audible = 1e-4;
// -2 dBFS: loud, with room left for a resampler's overshoot.
const peakLevel = 10 ** (-2 / 20);
const fadeS = 0.01;

/**
 * A sound made ready to be started on a moment: silence before the onset cut off, so that its first sample is
 * audible; the tail below `audible` cut off and faded; the peak at -2 dBFS. A sound that never reaches
 * `audible` once levelled, because it is all zeros, comes back empty.
 */
export function levelled(samples: Float32Array, sampleRate: number): Float32Array<ArrayBuffer> {
	let peak = 0;
	for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
	if (peak === 0) return new Float32Array(0);
	const gain = peakLevel / peak;
	const isAudible = (sample: number) => Math.abs(sample * gain) >= audible;
	const from = samples.findIndex(isAudible);
	const to = samples.findLastIndex(isAudible) + 1;
	const fade = Math.min(to - from, Math.round(fadeS * sampleRate));
	return Float32Array.from(samples.subarray(from, to), (sample, i) => {
		const left = to - from - i;
		return sample * gain * (left < fade ? left / fade : 1);
	});
}
