import { blockOf } from './blocks';
import { getReadyAgainMs, type Course } from './course';
import { isHandOver, restWithHandOver } from './hand-overs';
import { closedPausesMs, type Phase } from './phase';
import type { Plan } from './plan';

/** The same stretch under another name and with another length, counted from its start as a plan counts. */
export function turnedInto(
	kind: 'rest' | 'closing',
	phase: Phase,
	lengthMs: number,
	notBeforeMs: number
): Phase {
	const endMs = Math.max(phase.startMs + lengthMs + closedPausesMs(phase), notBeforeMs);
	const { toBlock: _block, downToPercent: _percent, settled: _settled, ...same } = phase;
	return { ...same, kind, endMs, plannedEndMs: endMs };
}

/** Long enough from `atMs` on to be warned of the round that follows. */
const warnedMs = ({ startWarningS }: Plan, atMs: number) =>
	atMs + (startWarningS || getReadyAgainMs / 1000) * 1000;

/** The closing minute, or the pause before another block, becomes an ordinary rest after all. */
export function boxingOn(plan: Plan, { blocks }: Course, phase: Phase, atMs: number): Phase {
	const { restS, restDownToPercent } = blockOf(blocks, phase);
	const { round = 0 } = phase;
	const lengthMs = restWithHandOver(plan, round, restS) * 1000;
	const rest = turnedInto('rest', phase, lengthMs, warnedMs(plan, atMs));
	return restDownToPercent === undefined || isHandOver(plan, round)
		? rest
		: { ...rest, downToPercent: restDownToPercent };
}

/** A rest or the closing minute becomes the pause before this block. */
export function pauseBefore(
	toBlock: number,
	plan: Plan,
	{ blocks }: Pick<Course, 'blocks'>,
	phase: Phase,
	atMs: number
): Phase {
	const pauseS = restWithHandOver(plan, phase.round ?? 0, blocks[toBlock - 1]!.pauseS);
	const lengthMs = plan.followsGymBell ? Infinity : pauseS * 1000;
	return { ...turnedInto('rest', phase, lengthMs, warnedMs(plan, atMs)), toBlock };
}
