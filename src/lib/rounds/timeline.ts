import { mostAmendmentsLive, type Amendment } from './amendment';
import { advance, courseOf as plannedCourse, phasesOf, type Course } from './course';
import { amended } from './fold';
import { closedPausesMs, type Phase } from './phase';
import type { Block, Plan } from './plan';

export type { Phase, PhaseKind } from './phase';

export type { Course } from './course';

/** What has become of a plan by now, to be gone on with by `courseAfter`. What is impossible at its moment changes nothing. */
export const courseOf = (plan: Plan, amendments: readonly Amendment[] = []): Course =>
	amendments.reduce((course, amendment) => amended(plan, course, amendment) ?? course, plannedCourse(plan));

/** The blocks as they have become by now: skipped ones keep their place without a round. */
export const blocksAfter = (plan: Plan, amendments: readonly Amendment[] = []): readonly Block[] =>
	courseOf(plan, amendments).blocks;

/** The phases of a course, as `timelineOf` answers them. */
export const phasesIn = (plan: Plan, course: Course): Phase[] => phasesOf(advance(plan, course, Infinity));

/**
 * The course once it is amended in this way besides, or undefined where that is impossible at its moment, or where so
 * many amendments (`count`) went before that only a finish is heeded. Nothing that went before is folded again.
 */
export function courseAfter(
	plan: Plan,
	course: Course,
	count: number,
	amendment: Amendment
): Course | undefined {
	if (count >= mostAmendmentsLive && amendment.kind !== 'finish') return undefined;
	return amended(plan, course, amendment);
}

/**
 * What became of a plan: its phases in elapsed milliseconds, pauses included, from 0 without holes. A plan
 * that `checkPlan` finds no fault with is taken for granted. Amendments are applied in order; one that is
 * impossible at its moment (see `accepts`) changes nothing. While a pause is open, or the gym's own bell is
 * awaited, the list ends with the phase that runs, whose `endMs` is Infinity.
 *
 * @example timelineOf({ ...threeByThree, warmUpS: 0, getReadyS: 0, coolDownS: 0 })
 * // work 0-180 s, rest 180-240, work 240-420, rest 420-480, work 480-660, closing 660-720
 */
export function timelineOf(plan: Plan, amendments: readonly Amendment[] = []): Phase[] {
	return phasesIn(plan, courseOf(plan, amendments));
}

/** Whether `timelineOf` would heed this amendment after those before it. Buttons are disabled by the answer. */
export function accepts(
	plan: Plan,
	amendments: readonly Amendment[],
	kind: Amendment['kind'],
	atMs: number
): boolean {
	return courseAfter(plan, courseOf(plan, amendments), amendments.length, { kind, atMs }) !== undefined;
}

/** The phase that runs at `ms` of elapsed time; undefined before 0 and after the end. */
export function phaseAt(timeline: readonly Phase[], ms: number): Phase | undefined {
	// By halves: it is asked at every heart beat and every frame.
	let low = 0;
	let high = timeline.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (timeline[middle]!.startMs <= ms) low = middle + 1;
		else high = middle;
	}
	const phase = timeline[low - 1];
	return phase && ms < phase.endMs ? phase : undefined;
}

/** The phase that comes after one of a timeline. */
export function phaseAfter(timeline: readonly Phase[], phase: Phase | undefined): Phase | undefined {
	return phase && timeline[timeline.indexOf(phase) + 1];
}

export function isPausedAt(timeline: readonly Phase[], ms: number): boolean {
	return phaseAt(timeline, ms)?.pauses.some((pause) => pause.fromMs <= ms && ms < pause.toMs) ?? false;
}

const openPauseMs = (phase: Phase) => {
	const last = phase.pauses.at(-1);
	return last?.toMs === Infinity ? last.fromMs : Infinity;
};

/**
 * How much of the phase is still to run at `nowMs`, in milliseconds: what a gym clock shows. Stands still in
 * a pause; never below 0, nor above the whole length; Infinity where the gym's own bell ends the phase.
 */
export function remainingMs(phase: Phase, nowMs: number): number {
	const endMs = phase.endMs === Infinity ? phase.plannedEndMs : phase.endMs;
	const atMs = Math.min(Math.max(nowMs, phase.startMs), openPauseMs(phase));
	const pausedMs = phase.pauses
		.filter((pause) => pause.toMs !== Infinity)
		.reduce((sum, pause) => sum + Math.max(0, pause.toMs - Math.max(pause.fromMs, atMs)), 0);
	return Math.max(0, endMs - atMs - pausedMs);
}

/** How much of the phase has run at `nowMs`, in milliseconds, pauses left out; at least 0. */
export function ranMs(phase: Phase, nowMs: number): number {
	const atMs = Math.max(nowMs, phase.startMs);
	const pausedMs = phase.pauses.reduce(
		(sum, { fromMs, toMs }) => sum + Math.max(0, Math.min(toMs, atMs) - fromMs),
		0
	);
	return atMs - phase.startMs - pausedMs;
}

/** The length of the phase as planned, in milliseconds, pauses left out; Infinity where the gym's own bell ends it. */
export function plannedRunMs(phase: Phase): number {
	return phase.plannedEndMs - phase.startMs - closedPausesMs(phase);
}

/**
 * The elapsed moment at which `leftMs` of the phase as planned remain, or undefined where that moment never
 * comes: the phase is not longer than that, was cut short before, or stands paused. The inverse of
 * `remainingMs` for a phase that nobody cut; where the clock stands paused on that very moment, the
 * beginning of the pause.
 */
export function whenRemaining(phase: Phase, leftMs: number): number | undefined {
	let atMs = phase.plannedEndMs - leftMs;
	let lengthMs = phase.plannedEndMs - phase.startMs;
	for (const { fromMs, toMs } of phase.pauses.toReversed()) {
		if (toMs === Infinity) continue;
		if (atMs <= toMs) atMs -= toMs - fromMs;
		lengthMs -= toMs - fromMs;
	}
	const comes = leftMs < lengthMs && atMs < phase.endMs && atMs <= openPauseMs(phase);
	return comes ? atMs : undefined;
}
