import type { Clock } from './clock';

export interface ManualClock extends Clock {
	/** Moves time forward to `atMs`, waking everybody due on the way, in order, each at its own moment. */
	advanceTo(atMs: number): void;
}

/** A clock that moves only when told: for tests, benches and sessions that are computed instead of lived. */
export function manualClock(startMs = 0): ManualClock {
	let nowMs = startMs;
	let nextTicket = 0;
	const waiting = new Map<number, { atMs: number; wake: () => void }>();

	function earliest() {
		let found: [number, { atMs: number; wake: () => void }] | undefined;
		for (const entry of waiting) if (!found || entry[1].atMs < found[1].atMs) found = entry;
		return found;
	}

	return {
		nowMs: () => nowMs,
		wakeAt(atMs, wake) {
			const ticket = nextTicket++;
			waiting.set(ticket, { atMs, wake });
			return () => void waiting.delete(ticket);
		},
		advanceTo(atMs) {
			for (let next = earliest(); next && next[1].atMs <= atMs; next = earliest()) {
				waiting.delete(next[0]);
				nowMs = Math.max(nowMs, next[1].atMs);
				next[1].wake();
			}
			nowMs = Math.max(nowMs, atMs);
		}
	};
}
