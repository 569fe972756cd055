import type { Block } from './plan';

export const amendmentKinds = [
	'pause',
	'resume',
	'next',
	'stop round',
	'repeat round',
	'add round',
	'extend rest',
	'rest over',
	'skip block',
	'repeat block',
	'add block',
	'finish'
] as const;

/** So many are kept with a session, and no more are read: each costs time wherever the list is folded. */
export const mostAmendments = 5000;

/** So many are taken while it runs; what is left over lets it be paused no more, but ended. */
export const mostAmendmentsLive = mostAmendments - 100;

/**
 * One change to the plan while it runs, at `atMs` of elapsed time. The list only ever grows; clock, bell,
 * journal and second screen all fold the same list with `timelineOf`.
 * - `pause` / `resume`: bells stand still, elapsed time and the heart do not.
 * - `next`: the phase ends now and the next one begins.
 * - `stop round`: as `next` during work, but the round is marked as stopped (a cut, a low blow).
 * - `repeat round`: the round that runs, or that was just boxed, is boxed again from its start.
 * - `add round`: one more round at the end of the block that runs or was just boxed.
 * - `extend rest`: thirty seconds more; a rest by heart then lasts as long as the hand says.
 * - `rest over`: in a rest by heart, every heart has come down to the plan's share of its threshold.
 * - `skip block`: no further round of the block that runs, or of the one that the pause leads to; on to the next.
 * - `repeat block`: the block that runs, or was just boxed, follows itself once more.
 * - `add block`: `block`, at the end; absent, one like the block that runs.
 * - `finish`: no further round; the closing minute still runs. A second one ends the session at once.
 */
export interface Amendment {
	kind: (typeof amendmentKinds)[number];
	atMs: number;
	block?: Block;
}

/** Those that an older page does not know: it must not read a session that holds one as if it were nothing. */
export const blockAmendments: readonly Amendment['kind'][] = ['skip block', 'repeat block', 'add block'];
