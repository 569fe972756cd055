/**
 * What the page can be heard to say. Bell, clapper and whistle are three different instruments because
 * rings tell them apart (Ohio OAC 3773-2-10; Washington WAC 36-12-280(5)).
 * - `count`: the last three seconds before the first bell;
 * - `round start`, `round end`: the bell, one stroke and three;
 * - `clapper`: the round ends soon; `whistle`: the round starts soon;
 * - `pulse`: over the threshold. Never planned, see `pulseRule`.
 */
export type Sound = (typeof allSounds)[number];

export const allSounds = ['count', 'round start', 'round end', 'clapper', 'whistle', 'pulse'] as const;
