import type { Phase } from '$lib/rounds/timeline';

/** A pause that touches the ten seconds before a bell or the sixty after it spoils the verdict on that rest. */
const beforeBellMs = 10_000;
const afterBellMs = 60_000;

/** Whether a pause lies between ten seconds before the bell and sixty after it, as far as `nowMs`. */
export function pausedNearBell(timeline: readonly Phase[], bellMs: number, nowMs: number): boolean {
	return timeline.some((phase) =>
		phase.pauses.some(
			({ fromMs, toMs }) => fromMs < Math.min(bellMs + afterBellMs, nowMs) && toMs > bellMs - beforeBellMs
		)
	);
}

/** Whether a phase is one of recovery from a bell. */
export const isRest = ({ kind }: Pick<Phase, 'kind'>) => kind === 'rest' || kind === 'closing';

/**
 * A phase as an athlete lived it who joined at `joinedMs`: undefined where it was over by then. Work begins with
 * the athlete; a rest keeps its bell, from which there is then nothing to fall.
 */
export function livedFrom(phase: Phase, joinedMs: number | undefined): Phase | undefined {
	if (joinedMs === undefined || phase.startMs >= joinedMs) return phase;
	if (phase.endMs <= joinedMs) return undefined;
	if (isRest(phase)) return phase;
	const pauses = phase.pauses
		.filter(({ toMs }) => toMs > joinedMs)
		.map(({ fromMs, toMs }) => ({ fromMs: Math.max(fromMs, joinedMs), toMs }));
	// An open pause has cost the planned end nothing yet, and it began before the athlete came.
	const open = phase.pauses.find(({ toMs }) => toMs === Infinity);
	const waitedMs = open ? Math.max(0, joinedMs - open.fromMs) : 0;
	return { ...phase, startMs: joinedMs, plannedEndMs: phase.plannedEndMs + waitedMs, pauses };
}

/** Whole seconds of a phase; a twentieth of a second of grace forgives rounding at its bells. */
export function lengthS({ startMs, endMs }: { startMs: number; endMs: number }): number {
	return Math.floor((endMs - startMs) / 1000 + 0.05);
}

/** Whether second `s` of a phase was paused: a second belongs where its middle lies. */
export function isPausedMiddle(phase: Phase, s: number): boolean {
	const middleMs = phase.startMs + (s + 0.5) * 1000;
	// By halves: it is asked for every second, and somebody may have paused a thousand times.
	let low = 0;
	let high = phase.pauses.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (phase.pauses[middle]!.fromMs <= middleMs) low = middle + 1;
		else high = middle;
	}
	return middleMs < (phase.pauses[low - 1]?.toMs ?? -Infinity);
}
