import type { Amendment } from './amendment';
import { mostBlocks } from './blocks';
import { blockChange } from './block-changes';
import { advance, type Course } from './course';
import type { Phase } from './phase';
import { closingMsOf, type Plan } from './plan';
import { endedByHeart } from './rest-by-heart';
import { boxingOn, turnedInto } from './turned';

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

/** What the gym's own bell leaves to nobody to plan. */
const ofLengths: readonly Amendment['kind'][] = ['repeat round', 'add round', 'extend rest', 'rest over'];
/** What would give a guided measurement, which has one shape, another one. */
const ofShape: readonly Amendment['kind'][] = [...ofLengths, 'skip block', 'repeat block', 'add block'];

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
	if (plan.kind !== undefined && ofShape.includes(kind)) return undefined;
	if (plan.followsGymBell && ofLengths.includes(kind)) return undefined;
	const endedAs = (mark: Partial<Phase>): Course => ({
		...course,
		current: { ...phase, endMs: atMs, ...mark }
	});
	/** Nothing stands between this rest and one more round of the block. */
	const mayBoxOn = !course.finished && (phase.kind === 'closing' || phase.toBlock !== undefined);

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
			if (mayBoxOn) return { ...course, repeatNext: true, current: boxingOn(plan, course, phase, atMs) };
			return phase.kind === 'rest' && !course.repeatNext ? { ...course, repeatNext: true } : undefined;
		case 'add round': {
			if (course.finished || phase.kind === 'cool-down') return undefined;
			const blocks = course.blocks.map((block, i) =>
				i === (phase.block ?? 1) - 1 ? { ...block, roundCount: block.roundCount + 1 } : block
			);
			const current = mayBoxOn ? boxingOn(plan, { ...course, blocks }, phase, atMs) : phase;
			return { ...course, blocks, current };
		}
		case 'extend rest':
			if (phase.kind !== 'rest') return undefined;
			return {
				...course,
				current: {
					...phase,
					endMs: phase.endMs + extensionMs,
					plannedEndMs: phase.plannedEndMs + extensionMs,
					...(phase.downToPercent !== undefined && { settled: 'by hand' })
				}
			};
		case 'rest over': {
			const current = phase.downToPercent === undefined ? undefined : endedByHeart(phase, atMs);
			return current && { ...course, current };
		}
		case 'skip block':
		case 'repeat block':
		case 'add block':
			if (course.finished || phase.kind === 'cool-down') return undefined;
			if (kind !== 'skip block' && course.blocks.length >= mostBlocks) return undefined;
			return blockChange(plan, course, phase, amendment);
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
