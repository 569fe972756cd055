import { closedPausesMs, type Phase } from './phase';

/** No rest by heart is shorter, however fast a heart comes down (own rule). */
const leastRestMs = 30_000;
/** The whistle blows when the share is reached, and the bell follows this much later. */
export const heartWhistleS = 10;

/** From so much of a rest on, pauses left out, reaching the share still leaves the shortest rest whole. */
export const heartFromMs = leastRestMs - heartWhistleS * 1000;

/** The share of the threshold that a plan may wait for, in percent (own rule). */
export const leastHeartPercent = 50;
export const mostHeartPercent = 95;
/** What the form offers first (own rule). */
export const usualHeartPercent = 75;

export const leastLongestRestS = leastRestMs / 1000;

/**
 * A rest whose hearts have come down at `atMs`: its bell rings ten seconds later, after thirty seconds of rest at the
 * earliest. Undefined where that would not bring the bell forward, or where the end of this rest is settled.
 */
export function endedByHeart(rest: Phase, atMs: number): Phase | undefined {
	if (rest.kind !== 'rest' || rest.settled) return undefined;
	const endMs = Math.max(rest.startMs + closedPausesMs(rest) + leastRestMs, atMs + heartWhistleS * 1000);
	return endMs < rest.endMs ? { ...rest, endMs, plannedEndMs: endMs, settled: 'by heart' } : undefined;
}
