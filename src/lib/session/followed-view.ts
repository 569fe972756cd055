import { isPausedAt, phaseAt, ranMs, remainingMs, phaseAfter } from '$lib/rounds/timeline';
import { oldBeatMs } from '$lib/record/limits';
import type { LiveView } from './live-view';
import type { LiveSnapshot } from './telling';

/**
 * The session as a screen that follows it shows it `sinceMs` of real time after it was told: the clock goes on by the
 * timeline, the corners stay as they were told, and after three seconds without a word no beat is shown as the present.
 */
export function followedView({ view, timeline, speed }: LiveSnapshot, sinceMs: number): LiveView {
	const elapsedMs = view.elapsedMs + Math.max(0, sinceMs) * speed;
	const phase = phaseAt(timeline, elapsedMs);
	const isOld = sinceMs > oldBeatMs;
	const words = `not heard for ${Math.round(sinceMs / 1000)} s`;
	const advice = 'The screen that records sends nothing at this moment. The clock goes on by the plan.';
	return {
		...view,
		elapsedMs,
		phase,
		next: phaseAfter(timeline, phase),
		remainingMs: phase ? remainingMs(phase, elapsedMs) : 0,
		ranMs: phase ? ranMs(phase, elapsedMs) : 0,
		isPaused: isPausedAt(timeline, elapsedMs),
		corners: isOld ? view.corners.map((corner) => ({ ...corner, signal: { words, advice } })) : view.corners
	};
}
