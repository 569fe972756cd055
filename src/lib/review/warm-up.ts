import type { IntensityBand } from '$lib/physiology/intensity';
import type { Bout } from '$lib/record/bout';

/** A part of the warm-up before a bout. */
export interface WarmUpBlock {
	minutes: number;
	words: string;
	aim: Extract<IntensityBand, 'easy' | 'working' | 'near threshold'>;
}

/** Own rule: from easy to near the threshold, and warm until the walk. */
export const warmUpBlocks: readonly WarmUpBlock[] = [
	{ minutes: 10, words: 'Rope and joints', aim: 'easy' },
	{ minutes: 8, words: 'Shadow boxing', aim: 'working' },
	{ minutes: 4, words: 'Fast hands on the mitts', aim: 'near threshold' },
	{ minutes: 3, words: 'Gloves on, keep moving', aim: 'easy' }
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

/** Beats a minute of an aim: up to, or from and to; undefined without a threshold. */
export function aimBpm(
	aim: WarmUpBlock['aim'],
	thresholdBpm: number | undefined
): { fromBpm?: number; toBpm: number } | undefined {
	if (thresholdBpm === undefined) return undefined;
	// The edges of the bands, as whole beats that lie within (see `bandOf`); in whole tenths, which do not round.
	const from = (tenths: number) => Math.ceil((thresholdBpm * tenths) / 10);
	if (aim === 'easy') return { toBpm: from(8) - 1 };
	if (aim === 'working') return { fromBpm: from(8), toBpm: from(9) - 1 };
	return { fromBpm: from(9), toBpm: Math.floor(thresholdBpm) };
}
