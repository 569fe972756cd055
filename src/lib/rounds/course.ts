import type { Phase, PhaseKind } from './phase';
import type { Plan } from './plan';

/** The minute after the last bell always runs: the drop in it is the one everybody asks for. */
const closingMs = 60_000;
/** A recovery check lies still for three minutes, so that its time constant can be had; quiet minutes have no bell to fall from. */
export const closingMsOf = ({ kind }: Plan) =>
	kind === 'recovery check' ? 180_000 : kind === 'resting' ? 0 : closingMs;

/** So long one gets ready for a round that is boxed again. */
export const getReadyAgainMs = 10_000;

/** What has become of a plan so far. Values are never changed, each step answers a new one. */
export interface Course {
	/** Phases that are over. */
	past: readonly Phase[];
	/** The phase that runs; its `endMs` is finite even in a pause, unless the gym's own bell ends it. Absent once the session is over. */
	current?: Phase;
	pausedFromMs?: number;
	roundCount: number;
	/** The rest that runs leads to the round just boxed, not to the next. */
	repeatNext: boolean;
	/** Finish was pressed: no further round. */
	finished: boolean;
	/** When the last amendment came; none can come before it. */
	amendedMs: number;
}

function phaseOf(kind: PhaseKind, startMs: number, lengthMs: number, round?: number, attempt = 1): Phase {
	const endMs = startMs + lengthMs;
	const phase: Phase = { kind, startMs, endMs, plannedEndMs: endMs, pauses: [] };
	if (round !== undefined) phase.round = round;
	if (attempt > 1) phase.attempt = attempt;
	return phase;
}

export function courseOf(plan: Plan): Course {
	return {
		past: [],
		current: plan.followsGymBell
			? phaseOf('get ready', 0, Infinity, 1)
			: phaseOf('warm-up', 0, plan.warmUpS * 1000),
		roundCount: plan.roundCount,
		repeatNext: false,
		finished: false,
		amendedMs: 0
	};
}

function following(plan: Plan, course: Course, phase: Phase): Phase | undefined {
	const { round = 1, attempt = 1, endMs } = phase;
	const follows = plan.followsGymBell;
	const lengthMs = (s: number) => (follows ? Infinity : s * 1000);
	const work = (number: number, again = 1) => phaseOf('work', endMs, lengthMs(plan.roundS), number, again);
	if (course.finished && phase.kind !== 'work') return undefined;
	switch (phase.kind) {
		case 'warm-up':
			return phaseOf('get ready', endMs, plan.getReadyS * 1000, 1);
		case 'get ready':
			return work(round, attempt);
		case 'work':
			if (phase.repeated) return phaseOf('get ready', endMs, getReadyAgainMs, round, attempt + 1);
			return course.finished || (!follows && round >= course.roundCount)
				? phaseOf('closing', endMs, closingMsOf(plan), round, attempt)
				: phaseOf('rest', endMs, lengthMs(plan.restS), round, attempt);
		case 'rest':
			return course.repeatNext ? work(round, attempt + 1) : work(round + 1);
		case 'closing':
			return phaseOf('cool-down', endMs, plan.coolDownS * 1000);
		case 'cool-down':
			return undefined;
	}
}

/** Lets time run to `toMs`; a pause holds it. Phases of no length leave no trace. */
export function advance(plan: Plan, course: Course, toMs: number): Course {
	let { current, repeatNext } = course;
	if (!current || current.endMs > toMs || course.pausedFromMs !== undefined) return course;
	const past = [...course.past];
	// Time without end does not bring a bell that nobody has pressed.
	while (current && current.endMs <= toMs && current.endMs < Infinity) {
		if (current.endMs > current.startMs) past.push(current);
		const next = following(plan, { ...course, repeatNext }, current);
		if (current.kind === 'rest') repeatNext = false;
		current = next;
	}
	return { ...course, past, current, repeatNext };
}

/** The phases of a course so far; an open pause, or a bell that is awaited, ends the last one at Infinity. */
export function phasesOf({ past, current, pausedFromMs }: Course): Phase[] {
	if (!current) return [...past];
	if (pausedFromMs === undefined) return [...past, current];
	const pauses = [...current.pauses, { fromMs: pausedFromMs, toMs: Infinity }];
	return [...past, { ...current, endMs: Infinity, pauses }];
}

/** What becomes of a plan that nobody changes on the way: `timelineOf` without amendments. */
export function plannedPhases(plan: Plan): Phase[] {
	return phasesOf(advance(plan, courseOf(plan), Infinity));
}
