import type { Amendment } from './amendment';
import { blockOf } from './blocks';
import { nextBlock, type Course } from './course';
import type { Phase } from './phase';
import { closingMsOf, type Block, type Plan } from './plan';
import { pauseBefore, turnedInto } from './turned';

/**
 * The course once a block is skipped, repeated or added in this phase, which is neither the cool-down nor after a
 * finish; undefined where that is impossible.
 */
export function blockChange(
	plan: Plan,
	course: Course,
	phase: Phase,
	{ kind, atMs, block }: Amendment
): Course | undefined {
	if (kind === 'skip block') return skipped(plan, course, phase, atMs);
	if (kind === 'add block')
		return leadingOn(
			plan,
			{ ...course, blocks: [...course.blocks, addedBlock(course, phase, block)] },
			phase,
			atMs
		);
	// Before the first bell nothing has been boxed that could follow once more.
	if (isBeforeFirstBell(phase)) return undefined;
	const { block: number = 1, toBlock } = phase;
	const blocks = course.blocks.toSpliced(number, 0, blockOf(course.blocks, phase));
	const current = toBlock === undefined ? phase : pauseBefore(number + 1, plan, { blocks }, phase, atMs);
	return leadingOn(plan, { ...course, blocks, current }, current, atMs);
}

const isBeforeFirstBell = ({ kind, attempt }: Phase) =>
	kind === 'warm-up' || (kind === 'get ready' && attempt === undefined);

const addedBlock = ({ blocks }: Course, phase: Phase, block?: Block): Block =>
	block ?? blockOf(blocks, phase);

/** Where nothing followed but the closing minute, the pause before the block that does now takes its place. */
function leadingOn(plan: Plan, course: Course, phase: Phase, atMs: number): Course {
	if (phase.kind !== 'closing') return course;
	const toBlock = nextBlock(course.blocks, phase.block ?? 1)!;
	return { ...course, current: pauseBefore(toBlock, plan, course, phase, atMs) };
}

function skipped(plan: Plan, course: Course, phase: Phase, atMs: number): Course | undefined {
	const { block = 1, toBlock, round = 0 } = phase;
	const later = nextBlock(course.blocks, toBlock ?? block);
	const withRounds = (number: number, roundCount: number): readonly Block[] =>
		course.blocks.map((one, i) => (i === number - 1 ? { ...one, roundCount } : one));
	if (toBlock !== undefined) {
		// What the gym's own bell rings is ended by hand: it is finished, not skipped.
		if (later === undefined && plan.followsGymBell) return undefined;
		const blocks = withRounds(toBlock, 0);
		const current =
			later === undefined
				? turnedInto('closing', phase, closingMsOf(plan), atMs)
				: pauseBefore(later, plan, { blocks }, phase, atMs);
		return { ...course, blocks, current };
	}
	if (later === undefined) return undefined;
	if (isBeforeFirstBell(phase))
		return { ...course, blocks: withRounds(block, 0), current: { ...phase, block: later } };
	const blocks = withRounds(block, round - course.roundsBefore);
	if (phase.kind === 'work') return { ...course, blocks, current: { ...phase, endMs: atMs, cutShort: true } };
	// Ten seconds of getting ready to box a round again lead to that round.
	if (phase.kind !== 'rest') return undefined;
	return { ...course, blocks, repeatNext: false, current: pauseBefore(later, plan, { blocks }, phase, atMs) };
}
