import { blocksOf, roundsIn } from '$lib/rounds/blocks';
import type { Plan } from '$lib/rounds/plan';
import { evenTurns, handedAfter, overlapIn, takingTurns, turnsByBlock, type Turn } from '$lib/rounds/turns';
import { roundsFromText, roundsText, type RoundRange } from '$lib/rounds/round-ranges';

/** A boxer before the first bell, as turns are planned. */
export interface TurnRow {
	name: string;
	isBare: boolean;
	/** The row of the boxer whose strap this one wears in turn. */
	sharesWith?: number;
	/** As they are typed. */
	rounds: string;
}

export interface PlannedTurns {
	/** Whose turns are planned: for each strap that is shared the rows of its wearers, its first wearer first. */
	groups: number[][];
	/** For each of them; `who` is a row. */
	turns: Turn<number>[][];
	/** Rounds after which some strap changes hands, ascending. */
	afterRounds: number[];
	/** What is wrong, in a sentence, by row. */
	problems: Map<number, string>;
}

/** How many rounds a plan has; undefined where the gym's own bell rings them. */
export const roundCountOf = (plan: Plan): number | undefined =>
	plan.followsGymBell ? undefined : roundsIn(blocksOf(plan));

/** The turns of a roster. Where something is wrong with those of a strap, none of its turns are answered. */
export function plannedTurns(rows: readonly TurnRow[], plan: Plan): PlannedTurns {
	const roundCount = roundCountOf(plan);
	const groups = rows.flatMap((owner, i) => {
		const sharers = rows.flatMap(({ isBare, sharesWith }, other) =>
			isBare && sharesWith === i ? other : []
		);
		return owner.isBare || sharers.length === 0 ? [] : [[i, ...sharers]];
	});
	const problems = new Map<number, string>();
	const turns = groups.flatMap((group) => {
		const read = group.map((row) => ({ row, rounds: roundsFromText(rows[row]!.rounds, roundCount) }));
		const sound: Turn<number>[] = [];
		for (const { row, rounds } of read)
			if (typeof rounds === 'string') problems.set(row, rounds);
			else sound.push({ who: row, rounds });
		const overlap = overlapIn(sound);
		if (overlap) {
			const { name } = rows[sound[overlap.one]!.who]!;
			problems.set(
				sound[overlap.other]!.who,
				`Round ${overlap.round} is ${name}’s already: one wears the strap in a round.`
			);
		}
		const first = sound.find(({ who }) => who === group[0]);
		if (first && !first.rounds.some(({ from }) => from === 1))
			problems.set(first.who, 'Whoever has the strap at Start wears it in round 1.');
		return group.some((row) => problems.has(row)) ? [] : [sound];
	});
	const after = turns.flatMap((ofStrap) => handedAfter(ofStrap, roundCount ?? lastRoundOf(ofStrap)));
	return { groups, turns, afterRounds: [...new Set(after)].toSorted((one, other) => one - other), problems };
}

const lastRoundOf = (turns: readonly Turn<number>[]) =>
	Math.max(...turns.flatMap(({ rounds }) => rounds.map(({ to }) => to)));

/** How a shared strap may go round. */
export const handingSchemes = [
	'in even parts',
	'each round',
	'every 2 rounds',
	'every 3 rounds',
	'each block'
] as const;
export type HandingScheme = (typeof handingSchemes)[number];

/** The rounds of each of `count` wearers, as they would be typed. */
export function roundsByScheme(scheme: HandingScheme, count: number, plan: Plan): string[] {
	const blocks = blocksOf(plan).map(({ roundCount }) => roundCount);
	const roundCount = roundsIn(blocksOf(plan));
	return rangesByScheme(scheme, count, roundCount, blocks).map(roundsText);
}

function rangesByScheme(
	scheme: HandingScheme,
	count: number,
	roundCount: number,
	blocks: readonly number[]
): RoundRange[][] {
	switch (scheme) {
		case 'in even parts':
			return evenTurns(count, roundCount);
		case 'each round':
			return takingTurns(count, roundCount, 1);
		case 'every 2 rounds':
			return takingTurns(count, roundCount, 2);
		case 'every 3 rounds':
			return takingTurns(count, roundCount, 3);
		case 'each block':
			return turnsByBlock(count, blocks);
	}
}
