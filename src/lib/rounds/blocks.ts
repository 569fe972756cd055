import type { Phase } from './phase';
import type { Block, Plan } from './plan';

/** Time to change gloves and places (own rule). */
export const usualPauseS = 120;

/** No session has more, whatever is repeated or added while it runs: each costs time wherever the plan is folded. */
export const mostBlocks = 60;

/** The plan as blocks, in order; the first is what the plan's own members say. */
export function blocksOf(plan: Plan): readonly Block[] {
	const { activity, roundCount, roundS, restS, restDownToPercent, aim, blocks = [] } = plan;
	const first: Block = {
		activity,
		roundCount,
		roundS,
		restS,
		// Where it is boxed again something lies before it, too.
		pauseS: usualPauseS,
		...(restDownToPercent !== undefined && { restDownToPercent }),
		...(aim && { aim })
	};
	return [first, ...blocks];
}

/** The same blocks as a plan of the same name: the first one becomes the plan's own members. */
export function withBlocks(plan: Plan, [first, ...others]: readonly [Block, ...Block[]]): Plan {
	const { restDownToPercent: _percent, aim: _aim, blocks: _blocks, ...rest } = plan;
	const { pauseS: _pause, ...members } = first;
	return { ...rest, ...members, ...(others.length > 0 && { blocks: others }) };
}

/** Whether some rest of it waits for the hearts. */
export const isByHeart = (plan: Plan) =>
	blocksOf(plan).some(({ restDownToPercent }) => restDownToPercent !== undefined);

/** How many rounds these blocks have together. */
export const roundsIn = (blocks: readonly Pick<Block, 'roundCount'>[]) =>
	blocks.reduce((sum, { roundCount }) => sum + roundCount, 0);

/** The block that a phase belongs to; of a pause and a rest, the one just boxed. */
export const blockOf = (blocks: readonly Block[], { block = 1 }: Pick<Phase, 'block'>): Block =>
	blocks[block - 1] ?? blocks[0]!;

/** The block that a phase leads to or is of: of the pause before a block, that one. */
export const blockAhead = (blocks: readonly Block[], { block, toBlock }: Pick<Phase, 'block' | 'toBlock'>) =>
	blockOf(blocks, { block: toBlock ?? block });

/** What is done in these blocks, each activity once, in order. */
export const activitiesOf = (blocks: readonly Pick<Block, 'activity'>[]) => [
	...new Set(blocks.map(({ activity }) => activity))
];

/** The activities of a plan in words: "pads, bag". */
export const activityWords = (plan: Plan): string => activitiesOf(blocksOf(plan)).join(', ');
