import { unjudgedS, type TimeInAim } from '$lib/physiology/aim';
import type { RecordHead } from '$lib/record/head';
import type { RoundSummary } from '$lib/record/summary';
import { blockOf } from '$lib/rounds/blocks';
import { blocksAfter } from '$lib/rounds/timeline';
import { aimOfAthleteWords } from './aim-of';
import { clockWords } from './clock-words';
import { grouped } from '$lib/record/grouped';

/** The rounds of one block as the review shows them. */
export interface BlockRows {
	number: number;
	/** Absent where the session is of one block without an aim. */
	title?: string;
	/** What it was to be boxed at, and how long it was. */
	aim?: string;
	rounds: readonly RoundSummary[];
}

/** The rounds of a session by its blocks, those that were not boxed left out. */
export function blockRows(
	head: Pick<RecordHead, 'plan' | 'amendments' | 'athlete'>,
	rounds: readonly RoundSummary[]
): BlockRows[] {
	const blocks = blocksAfter(head.plan, head.amendments);
	return [...grouped(rounds, ({ block = 1 }) => block)].map(([number, same]) => {
		const { activity, aim } = blockOf(blocks, { block: number });
		if (blocks.length === 1 && !aim) return { number, rounds: same };
		const title = blocks.length === 1 ? `All rounds: ${activity}` : `Block ${number}: ${activity}`;
		if (!aim) return { number, title, rounds: same };
		const time = inAimWords(same.flatMap((round) => round.aim ?? []));
		return { number, title, aim: `Aim: ${aimOfAthleteWords(aim, head.athlete)}${time}`, rounds: same };
	});
}

function inAimWords(times: readonly TimeInAim[]): string {
	const sum = (of: (time: TimeInAim) => number) => times.reduce((s, time) => s + of(time), 0);
	const [inS, belowS, aboveS] = [sum((one) => one.inS), sum((one) => one.belowS), sum((one) => one.aboveS)];
	const judgedS = inS + belowS + aboveS;
	if (times.length === 0) return '.';
	if (judgedS === 0) return '. No second of it could be judged.';
	const words = (s: number) => clockWords(s * 1000);
	return `. In it ${words(inS)} of ${words(judgedS)}; below ${words(belowS)}, above ${words(aboveS)}.`;
}

/** What is to be known of a time in an aim, beside the table. */
export const timeInAimWords = `Time in aim is counted second by second, without the first ${unjudgedS} s of each round: the heart lags 10 to 20 s behind the work, and climbs first.`;
