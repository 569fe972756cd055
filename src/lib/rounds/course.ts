import { blockOf, blocksOf } from './blocks';
import { isHandOver, restWithHandOver } from './hand-overs';
import type { Phase, PhaseKind } from './phase';
import { closingMsOf, type Block, type Plan } from './plan';

/** So long one gets ready for a round that is boxed again. */
export const getReadyAgainMs = 10_000;

/** What has become of a plan so far. Values are never changed, each step answers a new one. */
export interface Course {
	/** Phases that are over. */
	past: readonly Phase[];
	/** The phase that runs; its `endMs` is finite even in a pause, unless the gym's own bell ends it. Absent once the session is over. */
	current?: Phase;
	pausedFromMs?: number;
	/** The blocks with the rounds that they have by now; one that is skipped whole has none. */
	blocks: readonly Block[];
	/** Rounds that were boxed before the block that runs. */
	roundsBefore: number;
	/** The rest that runs leads to the round just boxed, not to the next. */
	repeatNext: boolean;
	/** Finish was pressed: no further round. */
	finished: boolean;
	/** When the last amendment came; none can come before it. */
	amendedMs: number;
}

type Marks = Partial<Pick<Phase, 'round' | 'attempt' | 'block' | 'toBlock' | 'downToPercent'>>;

function phaseOf(kind: PhaseKind, startMs: number, lengthMs: number, marks: Marks): Phase {
	const { round, attempt = 1, block = 1, toBlock, downToPercent } = marks;
	const endMs = startMs + lengthMs;
	const phase: Phase = { kind, startMs, endMs, plannedEndMs: endMs, pauses: [] };
	if (round !== undefined) phase.round = round;
	if (block > 1) phase.block = block;
	if (toBlock !== undefined) phase.toBlock = toBlock;
	if (downToPercent !== undefined) phase.downToPercent = downToPercent;
	if (attempt > 1) phase.attempt = attempt;
	return phase;
}

export function courseOf(plan: Plan): Course {
	return {
		past: [],
		current: plan.followsGymBell
			? phaseOf('get ready', 0, Infinity, { round: 1 })
			: phaseOf('warm-up', 0, plan.warmUpS * 1000, {}),
		blocks: blocksOf(plan),
		roundsBefore: 0,
		repeatNext: false,
		finished: false,
		amendedMs: 0
	};
}

/** The number of the next block that has a round; undefined where none follows. */
export function nextBlock(blocks: readonly Block[], after: number): number | undefined {
	const found = blocks.findIndex(({ roundCount }, i) => i >= after && roundCount > 0);
	return found === -1 ? undefined : found + 1;
}

function following(plan: Plan, course: Course, phase: Phase): Phase | undefined {
	const { round = 1, attempt = 1, endMs, block = 1, toBlock } = phase;
	const follows = plan.followsGymBell;
	const lengthMs = (s: number) => (follows ? Infinity : s * 1000);
	const work = (marks: Marks) =>
		phaseOf('work', endMs, lengthMs(blockOf(course.blocks, marks).roundS), {
			round,
			attempt,
			block,
			...marks
		});
	if (course.finished && phase.kind !== 'work') return undefined;
	switch (phase.kind) {
		case 'warm-up':
			return phaseOf('get ready', endMs, plan.getReadyS * 1000, { round: 1, block });
		case 'get ready':
			return work({ block });
		case 'work':
			if (phase.repeated)
				return phaseOf('get ready', endMs, getReadyAgainMs, { round, attempt: attempt + 1, block });
			return afterRound(plan, course, phase);
		case 'rest':
			if (course.repeatNext) return work({ attempt: attempt + 1, block });
			return work({ round: round + 1, attempt: 1, block: toBlock ?? block });
		case 'closing':
			return phaseOf('cool-down', endMs, plan.coolDownS * 1000, { block });
		case 'cool-down':
			return undefined;
	}
}

function afterRound(plan: Plan, course: Course, { round = 1, attempt, block = 1, endMs }: Phase): Phase {
	const follows = plan.followsGymBell;
	const lengthMs = (s: number) => (follows ? Infinity : s * 1000);
	const { blocks, roundsBefore } = course;
	const { roundCount, restS, restDownToPercent } = blockOf(blocks, { block });
	const isLast = round - roundsBefore >= roundCount;
	const toBlock = isLast ? nextBlock(blocks, block) : undefined;
	// Nobody knows how many rounds the gym's own bell will ring: its last block has no last round.
	if (course.finished || (isLast && toBlock === undefined && !follows))
		return phaseOf('closing', endMs, closingMsOf(plan), { round, attempt, block });
	if (toBlock !== undefined)
		return phaseOf('rest', endMs, lengthMs(restWithHandOver(plan, round, blocks[toBlock - 1]!.pauseS)), {
			round,
			attempt,
			block,
			toBlock
		});
	// Whoever hands a strap over cannot be waited for by heart.
	const downToPercent = follows || isHandOver(plan, round) ? undefined : restDownToPercent;
	return phaseOf('rest', endMs, lengthMs(restWithHandOver(plan, round, restS)), {
		round,
		attempt,
		block,
		downToPercent
	});
}

/** Lets time run to `toMs`; a pause holds it. Phases of no length leave no trace. */
export function advance(plan: Plan, course: Course, toMs: number): Course {
	let { current, repeatNext, roundsBefore } = course;
	if (!current || current.endMs > toMs || course.pausedFromMs !== undefined) return course;
	const past = [...course.past];
	// Time without end does not bring a bell that nobody has pressed.
	while (current && current.endMs <= toMs && current.endMs < Infinity) {
		if (current.endMs > current.startMs) past.push(current);
		const next = following(plan, { ...course, repeatNext, roundsBefore }, current);
		if (current.kind === 'rest') {
			if (current.toBlock !== undefined) roundsBefore = current.round ?? 0;
			repeatNext = false;
		}
		current = next;
	}
	return { ...course, past, current, repeatNext, roundsBefore };
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
