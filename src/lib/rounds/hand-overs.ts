import { blocksOf } from './blocks';
import type { Plan } from './plan';

/** Time to hand a strap over (own rule). */
export const usualHandOverS = 120;

/** What every rest is measured over. */
export const measuredRestS = 60;

/** Whether a strap goes to another chest in the rest after this round. */
export const isHandOver = ({ handOvers }: Pick<Plan, 'handOvers'>, round: number): boolean =>
	handOvers?.afterRounds.includes(round) ?? false;

/** How long the rest after a round lasts whose plan gives it `restS`, in seconds. */
export function restWithHandOver(plan: Pick<Plan, 'handOvers'>, round: number, restS: number): number {
	return isHandOver(plan, round) ? Math.max(restS, measuredRestS + plan.handOvers!.lengthS) : restS;
}

/** The plan as a library keeps it: hand-overs are made for one session. */
export function withoutHandOvers(plan: Plan): Plan {
	const { handOvers: _, ...rest } = plan;
	return rest;
}

/** The rests and pauses of a plan in order, after round 1, 2, ...: as its blocks give them, in seconds. */
export function plainRests(plan: Plan): number[] {
	return blocksOf(plan).flatMap(({ roundCount, restS, pauseS }, i) => [
		...(i > 0 ? [pauseS] : []),
		...Array<number>(Math.max(0, roundCount - 1)).fill(restS)
	]);
}

/** What the hand-overs add to a plan, in ms. */
export function handOversMs(plan: Plan): number {
	if (!plan.handOvers) return 0;
	return plainRests(plan).reduce(
		(ms, restS, i) => ms + (restWithHandOver(plan, i + 1, restS) - restS) * 1000,
		0
	);
}
