import { firstIndex } from '$lib/physiology/first-index';
import { secondsOf, type Seconds } from '$lib/physiology/grid';
import type { WorkRound } from '$lib/physiology/over-threshold';
import { beforeBellS, endGraceS, judgedAtS } from '$lib/physiology/rest-taken';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import type { Span } from '$lib/record/worn';

/**
 * Whether a pause lies between ten seconds before the bell and sixty after it, as far as `nowMs`: it spoils the verdict
 * on that rest.
 */
export function pausedNearBell(timeline: readonly Phase[], bellMs: number, nowMs: number): boolean {
	const untilMs = Math.min(bellMs + judgedAtS * 1000, nowMs);
	const sinceMs = bellMs - beforeBellS * 1000;
	return timeline.some(({ pauses }) => pauses.some(({ fromMs, toMs }) => fromMs < untilMs && toMs > sinceMs));
}

/** Whether a phase is one of recovery from a bell. */
export const isRest = ({ kind }: Pick<Phase, 'kind'>) => kind === 'rest' || kind === 'closing';

/**
 * A phase as an athlete lived it with a strap on: undefined where none was worn in it. Work begins with the strap; a rest
 * keeps its bell, from which there is then nothing to fall. Both end where the strap is given away.
 *
 * @param worn in order of time; see `wornIn`
 */
export function livedIn(phase: Phase, worn: readonly Span[]): Phase | undefined {
	const spans = worn.filter(({ fromMs, toMs }) => fromMs < phase.endMs && toMs > phase.startMs);
	const [first] = spans;
	if (!first) return undefined;
	return until(from(phase, first.fromMs), spans.at(-1)!.toMs);
}

function from(phase: Phase, fromMs: number): Phase {
	if (phase.startMs >= fromMs || isRest(phase)) return phase;
	const pauses = phase.pauses
		.filter(({ toMs }) => toMs > fromMs)
		.map((pause) => ({ ...pause, fromMs: Math.max(pause.fromMs, fromMs) }));
	// An open pause has cost the planned end nothing yet, and it began before the strap came.
	const open = phase.pauses.find(({ toMs }) => toMs === Infinity);
	const waitedMs = open ? Math.max(0, fromMs - open.fromMs) : 0;
	return { ...phase, startMs: fromMs, plannedEndMs: phase.plannedEndMs + waitedMs, pauses };
}

function until(phase: Phase, toMs: number): Phase {
	if (phase.endMs <= toMs) return phase;
	const pauses = phase.pauses
		.filter((pause) => pause.fromMs < toMs)
		.map((pause) => ({ ...pause, toMs: Math.min(pause.toMs, toMs) }));
	return { ...phase, endMs: toMs, pauses };
}

/** Whole seconds of a phase; a twentieth of a second of grace forgives rounding at its bells. */
export function lengthS({ startMs, endMs }: { startMs: number; endMs: number }): number {
	return Math.floor((endMs - startMs) / 1000 + endGraceS);
}

/** Whole seconds of a phase that are over at `nowMs`: one that still runs has no grace, its second may yet bring a beat. */
export function goneS(phase: Phase, nowMs: number): number {
	return nowMs >= phase.endMs ? lengthS(phase) : Math.max(0, Math.floor((nowMs - phase.startMs) / 1000));
}

/**
 * The grid of a phase from its first second on, or from `beforeS` before it. What comes from its end on is none of
 * it, also where the grace lets its last second reach beyond.
 */
export function secondsOfPhase(readings: readonly Reading[], phase: Phase, beforeS = 0): Seconds {
	return secondsOf(readings, phase.startMs - beforeS * 1000, beforeS + lengthS(phase), phase.endMs);
}

/** A phase of work as the seconds over the threshold are counted in it, in seconds from its start. */
export function workRoundOf({ startMs, endMs, plannedEndMs, pauses }: Phase): WorkRound {
	const toS = (ms: number) => (ms - startMs) / 1000;
	return {
		startS: 0,
		endS: toS(endMs),
		plannedEndS: toS(plannedEndMs),
		pauses: pauses.map(({ fromMs, toMs }) => ({ startS: toS(fromMs), endS: toS(toMs) }))
	};
}

/** Whether second `s` of a phase was paused: a second belongs where its middle lies. */
export function isPausedMiddle(phase: Phase, s: number): boolean {
	const middleMs = phase.startMs + (s + 0.5) * 1000;
	// By halves: it is asked for every second, and somebody may have paused a thousand times.
	const next = firstIndex(phase.pauses, ({ fromMs }) => fromMs > middleMs);
	return middleMs < (phase.pauses[next - 1]?.toMs ?? -Infinity);
}

/** Whole seconds of a phase, pauses left out. */
export function workedS(phase: Phase): number {
	let worked = 0;
	for (let s = 0; s < lengthS(phase); s++) if (!isPausedMiddle(phase, s)) worked++;
	return worked;
}
