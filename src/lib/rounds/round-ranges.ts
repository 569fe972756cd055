/** Rounds of the whole session, both included. */
export interface RoundRange {
	from: number;
	to: number;
}

/** No session has a round of a higher number that anybody could plan for. */
export const highestRound = 999;

/**
 * Rounds as they are typed: "1-3, 7".
 *
 * @param roundCount how many the plan has; undefined where the gym's own bell rings them
 * @returns a sentence where it says no rounds, or some that the plan does not have
 * @example roundsFromText('1-3, 7', 8) // [{ from: 1, to: 3 }, { from: 7, to: 7 }]
 */
export function roundsFromText(text: string, roundCount: number | undefined): RoundRange[] | string {
	const parts = text.split(/[,;]/).flatMap((part) => part.trim() || []);
	if (parts.length === 0) return 'Say in which rounds, such as 1-3.';
	const ranges: RoundRange[] = [];
	for (const part of parts) {
		const [, first, last = first] = /^(\d{1,3})(?:\s*(?:-|–|to)\s*(\d{1,3}))?$/.exec(part) ?? [];
		if (first === undefined) return `“${part}” is no round: type rounds such as 1-3, 7.`;
		const range = { from: Number(first), to: Number(last) };
		if (range.from < 1 || range.to < range.from) return `“${part}” is no round: type rounds such as 1-3, 7.`;
		if (range.to > (roundCount ?? highestRound))
			return `The plan has ${roundCount === 1 ? '1 round' : `${roundCount ?? highestRound} rounds`}: round ${range.to} is none of them.`;
		ranges.push(range);
	}
	return ranges.toSorted((one, other) => one.from - other.from);
}

/** @example roundsText([{ from: 1, to: 3 }, { from: 7, to: 7 }]) // "1-3, 7" */
export const roundsText = (ranges: readonly RoundRange[]): string =>
	ranges.map(({ from, to }) => (from === to ? `${from}` : `${from}-${to}`)).join(', ');
