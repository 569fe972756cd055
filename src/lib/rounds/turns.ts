import type { Plan } from './plan';
import { measuredRestS, plainRests, restWithHandOver, withoutHandOvers } from './hand-overs';
import { highestRound, type RoundRange } from './round-ranges';

/** In which rounds somebody is to wear a strap. */
export interface Turn<Who> {
	who: Who;
	rounds: readonly RoundRange[];
}

const has = ({ rounds }: Turn<unknown>, round: number) =>
	rounds.some(({ from, to }) => from <= round && round <= to);

/** Who is to wear the strap in a round; where nobody is planned for it, whoever had it last. */
export function wearerIn<Who>(turns: readonly Turn<Who>[], round: number): Who | undefined {
	for (let at = Math.min(round, highestRound); at >= 1; at--) {
		const turn = turns.find((one) => has(one, at));
		if (turn) return turn.who;
	}
	return undefined;
}

/** The first round that two turns of one strap both claim, with the places of both; undefined where none is. */
export function overlapIn(
	turns: readonly Turn<unknown>[]
): { round: number; one: number; other: number } | undefined {
	for (const [other, turn] of turns.entries())
		for (const range of turn.rounds)
			for (let round = range.from; round <= range.to; round++) {
				const one = turns.findIndex((before, i) => i < other && has(before, round));
				if (one !== -1) return { round, one, other };
			}
	return undefined;
}

/** After which rounds a strap goes to another chest, ascending. */
export function handedAfter(turns: readonly Turn<unknown>[], roundCount: number): number[] {
	const after: number[] = [];
	for (let round = 1; round < roundCount; round++) {
		const [now, then] = [wearerIn(turns, round), wearerIn(turns, round + 1)];
		if (now !== undefined && now !== then) after.push(round);
	}
	return after;
}

/** `count` wearers follow each other, each for as many rounds as the others or one more. */
export function evenTurns(count: number, roundCount: number): RoundRange[][] {
	const before = (turn: number) => Math.ceil((turn * roundCount) / count);
	return Array.from({ length: count }, (_, turn) => {
		const range = { from: before(turn) + 1, to: before(turn + 1) };
		return range.to < range.from ? [] : [range];
	});
}

/** `count` wearers take turns, `every` so many rounds. */
export function takingTurns(count: number, roundCount: number, every: number): RoundRange[][] {
	const turns: RoundRange[][] = Array.from({ length: count }, () => []);
	for (let from = 1, turn = 0; from <= roundCount; from += every, turn++)
		turns[turn % count]!.push({ from, to: Math.min(roundCount, from + every - 1) });
	return turns;
}

/** A turn a block: the wearers follow each other from block to block. */
export function turnsByBlock(count: number, roundCounts: readonly number[]): RoundRange[][] {
	const turns: RoundRange[][] = Array.from({ length: count }, () => []);
	let from = 1;
	for (const [i, roundCount] of roundCounts.entries()) {
		turns[i % count]!.push({ from, to: from + roundCount - 1 });
		from += roundCount;
	}
	return turns;
}

/**
 * The plan with time for handing over after these rounds.
 *
 * @param lengthS whole seconds; 0 leaves the plan as it is
 */
export function withHandOvers(plan: Plan, afterRounds: readonly number[], lengthS: number): Plan {
	const rest = withoutHandOvers(plan);
	return afterRounds.length === 0 || lengthS <= 0 ? rest : { ...rest, handOvers: { afterRounds, lengthS } };
}

/** Rounds whose drop is lost since the strap must leave within the measured minute for the next round to be read. */
export function lostAfter(plan: Plan, afterRounds: readonly number[]): number[] {
	const rests = plainRests(plan);
	return afterRounds.filter((round) => {
		const restS = rests[round - 1];
		return restS !== undefined && restWithHandOver(plan, round, restS) <= measuredRestS;
	});
}
