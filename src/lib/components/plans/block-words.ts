import { clockWords } from '$lib/review/clock-words';
import { aimWords } from '$lib/rounds/aim';
import type { Block } from '$lib/rounds/plan';

const length = (s: number) => (Number.isFinite(s) ? clockWords(s * 1000) : '–');

/** The length of rests: "rests of 1:00", or until when. */
export function restWords({ restS, restDownToPercent }: Pick<Block, 'restS' | 'restDownToPercent'>): string {
	return restDownToPercent === undefined
		? `rests of ${length(restS)}`
		: `rests until recovered, ${length(restS)} at most`;
}

/** Rounds in words: "One round of 3:00", "4 rounds of 3:00". */
export const roundsWords = ({ roundCount, roundS }: Pick<Block, 'roundCount' | 'roundS'>) =>
	roundCount === 1 ? `One round of ${length(roundS)}` : `${roundCount} rounds of ${length(roundS)}`;

/**
 * A block in a line.
 *
 * @param number from 1: of the second on it is said what lies before it
 * @example blockWords(block, 2, false) // 'Bag: 3 rounds of 2:00, rests of 0:30, near the threshold; 2:00 before it'
 */
export function blockWords(block: Block, number: number, followsGymBell: boolean): string {
	const { activity, roundCount, pauseS, aim } = block;
	const rounds = followsGymBell
		? roundCount === 1
			? 'one round'
			: `${roundCount} rounds`
		: roundsWords(block).replace(/^One/, 'one');
	const parts = [
		rounds,
		...(followsGymBell || roundCount === 1 ? [] : [restWords(block)]),
		...(aim ? [aimWords(aim)] : [])
	].join(', ');
	const pause = number > 1 && !followsGymBell ? `; ${length(pauseS)} before it` : '';
	return `${activity.charAt(0).toUpperCase()}${activity.slice(1)}: ${parts}${pause}`;
}
