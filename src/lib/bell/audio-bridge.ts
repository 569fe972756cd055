// A wireless speaker lags by some tenths of a second; more than this is a figure gone wrong.
const longestLatencyS = 2;
const toleranceS = 0.05;

export type Timestamped = Pick<
	AudioContext,
	'currentTime' | 'baseLatency' | 'outputLatency' | 'getOutputTimestamp'
>;

/**
 * The one place where the page's clock meets the audio clock. Answers the audio time (seconds on
 * `context.currentTime`'s scale) at which a sound must start so that it is *heard* at `pageMs`
 * (`performance.now()`'s scale), the output's latency made up for.
 *
 * `getOutputTimestamp` says which sample leaves the loudspeaker at which moment. Until the first sample has
 * left, and after an output has vanished, browsers answer zeros or an old pair: then the latency that the
 * context reports stands in, and 0 where it reports none.
 *
 * @param nowMs the present on the page's clock, from the same call as `pageMs` was reckoned with
 */
export function audioTimeAt(context: Timestamped, pageMs: number, nowMs: number): number {
	return heardNowS(context, nowMs) + (pageMs - nowMs) / 1000;
}

function heardNowS(context: Timestamped, nowMs: number): number {
	const { contextTime, performanceTime } = context.getOutputTimestamp?.() ?? {};
	if (contextTime && performanceTime) {
		const heardS = contextTime + (nowMs - performanceTime) / 1000;
		const latencyS = context.currentTime - heardS;
		if (latencyS > -toleranceS && latencyS < longestLatencyS) return heardS;
	}
	return context.currentTime - (context.outputLatency || context.baseLatency || 0);
}
