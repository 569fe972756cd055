import type { Amendment } from './amendment';
import { advance, closingMsOf, getReadyAgainMs, type Course } from './course';
import { closedPausesMs, type Phase } from './phase';
import type { Plan } from './plan';
import { endedByHeart } from './rest-by-heart';

const extensionMs = 30_000;

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
	const endMs = Math.max(phase.startMs + lengthMs + closedPausesMs(phase), notBeforeMs);
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
