import { quantileOf } from './quantile';

/** What is usual for one athlete, bpm. */
export interface Usual {
	/** The median of the drops. */
	middle: number;
	/** Between these lie four of five of them. */
	low: number;
	high: number;
	sessionCount: number;
	restCount: number;
}

/** Own rule: fewer say nothing of what is usual. */
export const leastSessions = 5;
const lowShare = 0.1;

/**
 * The athlete's own usual drop: the median of the judged drops at 60 of like sessions, and the span that holds the
 * middle four of five of them (quantiles by straight lines between neighbours: type 7 of Hyndman & Fan, Am Stat
 * 1996;50:361-365). Own rule, from five sessions on.
 *
 * @param sessions the judged drops of each like session, bpm; sessions without one do not count
 * @example usualOf([[40, 42], [38], [45, 41], [39], [44]]) // middle 41, low 38.6, high 44.4, of 7 rests
 */
export function usualOf(sessions: readonly (readonly number[])[]): Usual | undefined {
	const judged = sessions.filter((drops) => drops.length > 0);
	if (judged.length < leastSessions) return undefined;
	const drops = judged.flat().sort((a, b) => a - b);
	return {
		middle: quantileOf(drops, 0.5),
		low: quantileOf(drops, lowShare),
		high: quantileOf(drops, 1 - lowShare),
		sessionCount: judged.length,
		restCount: drops.length
	};
}
