import type { Seconds } from '$lib/physiology/grid';
import { blockOf } from '$lib/rounds/blocks';
import type { Activity, Block } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';

/** What was done in a part of a session, rests and the pause behind it included. */
export interface Stretch {
	activity: Activity;
	seconds: Seconds;
}

/**
 * The seconds of a session by what was done, one stretch an activity after another. A second belongs where it begins,
 * so none is lost and none counted twice.
 *
 * @param seconds the grid of the session from `fromMs` on
 */
export function stretchesOf(
	seconds: Seconds,
	fromMs: number,
	phases: readonly Phase[],
	blocks: readonly Block[]
): Stretch[] {
	const starts: { activity: Activity; atS: number }[] = [];
	for (const phase of phases) {
		const { activity } = blockOf(blocks, phase);
		if (starts.at(-1)?.activity === activity) continue;
		starts.push({ activity, atS: Math.ceil(Math.max(0, phase.startMs - fromMs) / 1000) });
	}
	if (starts.length === 0) return [{ activity: blocks[0]!.activity, seconds }];
	return starts.map(({ activity, atS }, i) => ({
		activity,
		seconds: seconds.subarray(i === 0 ? 0 : atS, starts[i + 1]?.atS)
	}));
}
