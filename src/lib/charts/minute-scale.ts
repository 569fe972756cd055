import { judgedAtS } from './landing-geometry';
import { clockText } from './trace';

/** What lies beyond the minute takes at most a quarter of the minute's own width. */
const mostBeyond = judgedAtS / 4;

/** Where the seconds after a bell lie, in seconds of the first minute, and what is written under them. */
export interface MinuteScale {
	xOf: (s: number) => number;
	end: number;
	ticks: { x: number; text: string }[];
}

/**
 * The minute as it is, and what the longest rest goes on with drawn together behind it.
 *
 * @param endsS how long each rest lasted, seconds
 * @example minuteScale([60, 180]).xOf(120) // 67.5: half of the two minutes beyond, on 15 seconds' width
 */
export function minuteScale(endsS: readonly number[]): MinuteScale {
	const endS = Math.max(judgedAtS, ...endsS);
	const beyondS = endS - judgedAtS;
	const share = beyondS > mostBeyond ? mostBeyond / beyondS : 1;
	const xOf = (s: number) => (s <= judgedAtS ? s : judgedAtS + (s - judgedAtS) * share);
	const ticks = [0, 15, 30, 45, judgedAtS, ...(beyondS >= 15 ? [endS] : [])];
	return {
		xOf,
		end: xOf(endS),
		ticks: ticks.map((s) => ({ x: xOf(s), text: s === 0 ? 'bell' : clockText(s) }))
	};
}
