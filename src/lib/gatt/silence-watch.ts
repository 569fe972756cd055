import type { Clock } from '$lib/time/clock';

// Straps send once a second; some take a while to find a first rate.
const silenceMs = 10_000;
const firstPacketMs = 20_000;
const lateWakeMs = 1000;
const graceMs = 2000;

/** Told of every packet; says when a link that is up has fallen silent. */
interface SilenceWatch {
	heard(ms: number): void;
}

/**
 * Watches a connection made just now until `signal` aborts. `onSilent` is called once, with the time of the last
 * packet (or of the connection), when none came for 10 s, or 20 s before the first.
 */
export function watchForSilence(
	clock: Clock,
	signal: AbortSignal,
	onSilent: (sinceMs: number) => void
): SilenceWatch {
	let lastMs = clock.nowMs();
	let limitMs = firstPacketMs;
	let excusedMs: number | undefined;
	let cancelWake: () => void;

	function wakeAt(atMs: number): void {
		cancelWake = clock.wakeAt(atMs, () => {
			const nowMs = clock.nowMs();
			const dueMs = lastMs + limitMs;
			if (nowMs < dueMs) return wakeAt(dueMs);
			// After a page was frozen its timer can come before the packets that wait behind it: once per silence
			// they get the time to be heard.
			if (nowMs > atMs + lateWakeMs && excusedMs !== lastMs) {
				excusedMs = lastMs;
				return wakeAt(nowMs + graceMs);
			}
			onSilent(lastMs);
		});
	}

	wakeAt(lastMs + silenceMs);
	signal.addEventListener('abort', () => cancelWake(), { once: true });
	return {
		heard(ms) {
			lastMs = ms;
			limitMs = silenceMs;
		}
	};
}
