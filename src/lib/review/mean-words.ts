import type { Summary } from '$lib/record/summary';
import { chiefWork } from './drops-by-activity';

/** How many rests a mean drop is of, and whether they were judged. */
export function meanDropOf({ drop60Count, rounds }: Pick<Summary, 'drop60Count' | 'rounds'>): string {
	if (drop60Count === 0) return 'no rest of a full minute with a clean signal';
	const isJudged = chiefWork(rounds).rounds.some(({ rest }) => rest && rest.verdict !== 'not judged');
	if (isJudged) return `mean of ${judgedRestWords(drop60Count)}`;
	return `mean of ${drop60Count} ${drop60Count === 1 ? 'rest that was' : 'rests that were'} not judged`;
}

/** So many judged rests. */
export function judgedRestWords(count: number): string {
	return `${count === 0 ? 'no' : count} judged rest${count === 1 ? '' : 's'}`;
}
