import type { Bout } from '$lib/record/bout';
import type { Aim } from '$lib/rounds/aim';

/** A part of the warm-up before a bout. */
export interface WarmUpBlock {
	minutes: number;
	words: string;
	aim: Aim;
}

/** Own rule: from easy to near the threshold, and warm until the walk. */
export const warmUpBlocks: readonly WarmUpBlock[] = [
	{ minutes: 10, words: 'Rope and joints', aim: { kind: 'easy' } },
	{ minutes: 8, words: 'Shadow boxing', aim: { kind: 'working' } },
	{ minutes: 4, words: 'Fast hands on the mitts', aim: { kind: 'near threshold' } },
	{ minutes: 3, words: 'Gloves on, keep moving', aim: { kind: 'easy' } }
];

const minuteMs = 60_000;
const wholeMs = warmUpBlocks.reduce((sum, { minutes }) => sum + minutes * minuteMs, 0);

/** The walk to the ring on the clock of this place; undefined where no time was typed. */
export function walkMsOf({ day, walkTime }: Pick<Bout, 'day' | 'walkTime'>): number | undefined {
	const ms = Date.parse(`${day}T${walkTime ?? ''}`);
	return walkTime !== undefined && Number.isFinite(ms) ? ms : undefined;
}

/** Where the warm-up stands: it ends at the walk, so it is counted back from there. */
export type WarmUpNow =
	| { kind: 'before'; beginsMs: number }
	| { kind: 'block'; index: number; toWalkMs: number; blockLeftMs: number }
	| { kind: 'walk' };

/**
 * @example warmUpAt(walkMs, walkMs - 60_000) // { kind: 'block', index: 3, toWalkMs: 60000, blockLeftMs: 60000 }
 */
export function warmUpAt(walkMs: number, nowMs: number): WarmUpNow {
	const toWalkMs = walkMs - nowMs;
	if (toWalkMs <= 0) return { kind: 'walk' };
	if (toWalkMs > wholeMs) return { kind: 'before', beginsMs: walkMs - wholeMs };
	let endsMs = wholeMs;
	for (const [index, { minutes }] of warmUpBlocks.entries()) {
		endsMs -= minutes * minuteMs;
		if (toWalkMs > endsMs) return { kind: 'block', index, toWalkMs, blockLeftMs: toWalkMs - endsMs };
	}
	return { kind: 'walk' };
}
