import { wakeAfter } from './wake-after';

/**
 * The only source of time in the application. Values are milliseconds on a clock that never goes back and
 * has no calendar: for the real clock, `performance.now()`.
 */
export interface Clock {
	/** The present, in milliseconds since an arbitrary origin that stays the same while the page lives. */
	nowMs(): number;
	/**
	 * Calls `wake` once, at `atMs` or as soon afterwards as the browser lets it; a time in the past means as
	 * soon as possible. A page may still be woken late, where the computer slept or the browser has no worker to
	 * wake it, so whoever is woken asks `nowMs()` again and never counts. The answer cancels.
	 */
	wakeAt(atMs: number, wake: () => void): () => void;
}

// setTimeout stores its delay in 32 bits and fires at once beyond that.
const longestTimeoutMs = 2 ** 31 - 1;

/** The page's monotonic clock, or the same one running `speed` times as fast (practice sessions). */
export function realClock(speed = 1): Clock {
	const originMs = performance.now();
	const nowMs = () => originMs + (performance.now() - originMs) * speed;
	return {
		nowMs,
		wakeAt(atMs, wake) {
			let cancel: () => void;
			const arm = () => {
				const delayMs = Math.max(0, (atMs - nowMs()) / speed);
				cancel = delayMs > longestTimeoutMs ? wakeAfter(longestTimeoutMs, arm) : wakeAfter(delayMs, wake);
			};
			arm();
			return () => cancel();
		}
	};
}
