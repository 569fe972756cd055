export const amendmentKinds = [
	'pause',
	'resume',
	'next',
	'stop round',
	'repeat round',
	'add round',
	'extend rest',
	'rest over',
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
 * - `add round`: one more round at the end.
 * - `extend rest`: thirty seconds more; a rest by heart then lasts as long as the hand says.
 * - `rest over`: in a rest by heart, every heart has come down to the plan's share of its threshold.
 * - `finish`: no further round; the closing minute still runs. A second one ends the session at once.
 */
export interface Amendment {
	kind: (typeof amendmentKinds)[number];
	atMs: number;
}
