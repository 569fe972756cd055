const afterS = 5;
const againMs = 15_000;

export interface OverNow {
	/** Any monotonic clock. */
	nowMs: number;
	/** Seconds over the threshold without a break, up to now; 0 when not over it. */
	overS: number;
	/** In the closing burst of a round, where going over is allowed. */
	inBurst: boolean;
}

/**
 * Answers, asked at each packet, whether the over-threshold pulse is to ring now: as soon as a spell has
 * lasted 5 s outside the burst, once a spell, and again each 15 s for as long as that spell goes on.
 */
export function pulseRule(): (over: OverNow) => boolean {
	let rungMs: number | undefined;
	let lastOverS = 0;
	return ({ nowMs, overS, inBurst }) => {
		// Less than before is another spell, even where the break between the two was never asked about.
		if (!(overS >= lastOverS)) rungMs = undefined;
		lastOverS = overS;
		if (!(overS >= afterS) || inBurst) return false;
		if (rungMs !== undefined && nowMs - rungMs < againMs) return false;
		rungMs = nowMs;
		return true;
	};
}
