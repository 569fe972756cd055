import type { RecordHead } from '$lib/record/head';
import { roundsText, type RoundRange } from '$lib/rounds/round-ranges';

/**
 * In which rounds somebody wore a strap who did not wear one all the time; undefined for whoever did.
 *
 * @param rounds those that were measured, in order
 * @example turnWords(head, rounds) // "With a strap in rounds 4-6; the plan said 4-5. The other rounds are not measured."
 */
export function turnWords(
	{ strapChanges = [], turn }: Pick<RecordHead, 'strapChanges' | 'turn'>,
	rounds: readonly { round: number }[]
): string | undefined {
	if (!strapChanges.some(({ handOver }) => handOver)) return undefined;
	const worn = roundsText(rangesOf(rounds.map(({ round }) => round)));
	if (worn === '') return 'With a strap in no round: none is measured.';
	const planned = turn && roundsText(turn);
	const said = planned === undefined || planned === worn ? '' : `; the plan said ${planned}`;
	return `With a strap in round${/^\d+$/.test(worn) ? '' : 's'} ${worn}${said}. The other rounds are not measured.`;
}

/** Numbers of rounds, in order, as ranges; one that was boxed again counts once. */
function rangesOf(rounds: readonly number[]): RoundRange[] {
	const ranges: RoundRange[] = [];
	for (const round of rounds) {
		const last = ranges.at(-1);
		if (last && round <= last.to + 1) last.to = Math.max(last.to, round);
		else ranges.push({ from: round, to: round });
	}
	return ranges;
}
