import type { Amendment } from './amendment';
import type { Phase, PhaseKind } from './phase';
import type { Plan } from './plan';
import { endedByHeart } from './rest-by-heart';

/** The minute after the last bell always runs: the drop in it is the one everybody asks for. */
export const closingMs = 60_000;
/** A recovery check lies still for three minutes, so that its time constant can be had; quiet minutes have no bell to fall from. */
const closingMsOf = ({ kind }: Plan) =>
	kind === 'recovery check' ? 180_000 : kind === 'resting' ? 0 : closingMs;

const extensionMs = 30_000;
const getReadyAgainMs = 10_000;

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

function resumed(phase: Phase, fromMs: number, toMs: number): Phase {
	const lengthMs = toMs - fromMs;
	if (lengthMs === 0) return phase;
	return {
		...phase,
		endMs: phase.endMs + lengthMs,
		plannedEndMs: phase.plannedEndMs + lengthMs,
		pauses: [...phase.pauses, { fromMs, toMs }]
	};
}

/** The same stretch under another name and with another length, counted from its start as a plan counts. */
function turnedInto(kind: 'rest' | 'closing', phase: Phase, lengthMs: number, notBeforeMs: number): Phase {
	const pausedMs = phase.pauses.reduce((sum, pause) => sum + pause.toMs - pause.fromMs, 0);
	const endMs = Math.max(phase.startMs + lengthMs + pausedMs, notBeforeMs);
	return { ...phase, kind, endMs, plannedEndMs: endMs, settled: undefined };
}

/** The course after `amendment`, or undefined where it is impossible at that moment. */
export function amended(plan: Plan, before: Course, amendment: Amendment): Course | undefined {
	const { kind, atMs } = amendment;
	if (!(atMs >= before.amendedMs && atMs < Infinity)) return undefined;
	let course: Course = { ...advance(plan, before, atMs), amendedMs: atMs };
	let now = course.current;
	if (!now) return undefined;

	if (course.pausedFromMs !== undefined) {
		if (kind !== 'resume' && kind !== 'finish') return undefined;
		now = resumed(now, course.pausedFromMs, atMs);
		course = { ...course, current: now, pausedFromMs: undefined };
		if (kind === 'resume') return course;
	}

	const phase = now;
	// A guided measurement has one shape: another one is another session. What the gym's bell rings nobody plans.
	const isFixed = plan.kind !== undefined || plan.followsGymBell;
	if (isFixed && ['repeat round', 'add round', 'extend rest', 'rest over'].includes(kind)) return undefined;
	const endedAs = (mark: Partial<Phase>): Course => ({
		...course,
		current: { ...phase, endMs: atMs, ...mark }
	});
	/** The closing minute becomes a rest after all, long enough to be warned of the round that follows. */
	const boxingOn = () =>
		turnedInto(
			'rest',
			phase,
			plan.restS * 1000,
			atMs + (plan.startWarningS || getReadyAgainMs / 1000) * 1000
		);

	switch (kind) {
		case 'pause':
			return { ...course, pausedFromMs: atMs };
		case 'resume':
			return undefined;
		case 'next':
			return endedAs({ cutShort: true });
		case 'stop round':
			return phase.kind === 'work' ? endedAs({ stopped: true }) : undefined;
		case 'repeat round':
			if (phase.kind === 'work') return endedAs({ repeated: true });
			if (phase.kind === 'rest' && !course.repeatNext) return { ...course, repeatNext: true };
			if (phase.kind === 'closing' && !course.finished)
				return { ...course, repeatNext: true, current: boxingOn() };
			return undefined;
		case 'add round':
			if (course.finished || phase.kind === 'cool-down') return undefined;
			return {
				...course,
				roundCount: course.roundCount + 1,
				current: phase.kind === 'closing' ? boxingOn() : phase
			};
		case 'extend rest':
			if (phase.kind !== 'rest') return undefined;
			return {
				...course,
				current: {
					...phase,
					endMs: phase.endMs + extensionMs,
					plannedEndMs: phase.plannedEndMs + extensionMs,
					...(plan.restDownToPercent !== undefined && { settled: 'by hand' })
				}
			};
		case 'rest over': {
			const current = plan.restDownToPercent === undefined ? undefined : endedByHeart(phase, atMs);
			return current && { ...course, current };
		}
		case 'finish':
			return finished(plan, { ...course, finished: true }, phase, atMs);
	}
}

function finished(plan: Plan, course: Course, phase: Phase, atMs: number): Course {
	// Getting ready to box a round again has a bell behind it, so it is a rest like any other.
	const boxedAttempt = phase.kind === 'get ready' && phase.attempt ? phase.attempt - 1 : undefined;
	if (phase.kind !== 'rest' && boxedAttempt === undefined)
		return { ...course, current: { ...phase, endMs: atMs, cutShort: true } };
	const closing = turnedInto('closing', phase, closingMsOf(plan), atMs);
	if (boxedAttempt !== undefined) {
		if (boxedAttempt > 1) closing.attempt = boxedAttempt;
		else delete closing.attempt;
	}
	return { ...course, current: closing };
}
