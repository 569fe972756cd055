import { blocksOf } from './blocks';
import { handOversMs } from './hand-overs';
import { closingMsOf, type Plan } from './plan';

/** First bell to last, rests and pauses included and the closing minute not: 12 x 3 minutes last 47. */
export function boutMs(plan: Plan): number {
	return blocksOf(plan).reduce(
		(ms, { roundCount, roundS, restS, pauseS }, i) =>
			ms + (roundCount * roundS + (roundCount - 1) * restS + (i > 0 ? pauseS : 0)) * 1000,
		handOversMs(plan)
	);
}

/**
 * The whole session if nothing is changed on the way, from Start to the end of the cool-down; with rests by heart the
 * longest it can be, and Infinity where the gym's own bell rings. The sum of its parts: nothing is folded for it.
 */
export function totalMs(plan: Plan): number {
	if (plan.followsGymBell) return Infinity;
	const { warmUpS, getReadyS, coolDownS } = plan;
	return (warmUpS + getReadyS + coolDownS) * 1000 + boutMs(plan) + closingMsOf(plan);
}
