import { blocksOf, usualPauseS, withBlocks } from './blocks';
import type { Block, Plan } from './plan';

/** A plan whose blocks were rearranged in a form. Pauses stay in their places: they are between blocks. */
function rearranged(plan: Plan, blocks: readonly Block[]): Plan {
	const pauses = blocksOf(plan).map(({ pauseS }) => pauseS);
	const [first, ...others] = blocks.map((block, i) => ({ ...block, pauseS: pauses[i] ?? usualPauseS }));
	return first ? withBlocks(plan, [first, ...others]) : plan;
}

/** The same plan with another block in this place, from 1. */
export const withBlock = (plan: Plan, number: number, block: Block): Plan => {
	const [first, ...others] = blocksOf(plan).map((one, i) => (i === number - 1 ? block : one));
	return withBlocks(plan, [first!, ...others]);
};

/** The block in this place is there twice, one behind the other. */
export const withDouble = (plan: Plan, number: number): Plan => {
	const blocks = blocksOf(plan);
	return rearranged(plan, blocks.toSpliced(number, 0, blocks[number - 1]!));
};

/** Without the block in this place; the only one stays. */
export const withoutBlock = (plan: Plan, number: number): Plan => {
	const blocks = blocksOf(plan);
	return blocks.length < 2 ? plan : rearranged(plan, blocks.toSpliced(number - 1, 1));
};

/** The block in this place one place earlier (-1) or later (1), where there is one. */
export function withMoved(plan: Plan, number: number, by: -1 | 1): Plan {
	const blocks = [...blocksOf(plan)];
	const [one, other] = [blocks[number - 1], blocks[number - 1 + by]];
	if (!one || !other) return plan;
	[blocks[number - 1], blocks[number - 1 + by]] = [other, one];
	return rearranged(plan, blocks);
}
