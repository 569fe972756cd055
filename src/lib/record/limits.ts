const dayMs = 86_400_000;

/** The longest sleep that a session waits through (own rule); beyond it somebody has set the clock. */
export const longestSleepMs = 7 * dayMs;

/** The longest session that is measured and drawn second by second: a day of boxing and the longest sleep. */
export const longestMeasuredMs = longestSleepMs + dayMs;

/** The longest that is kept: far beyond what a page runs for, and still a number that every sum can hold. */
export const longestKeptMs = 100 * dayMs;

/** As long as a deleted athlete or session can be brought back. */
export const keptDeletedMs = dayMs;

/** A wall clock says how much time has gone, unless it was set meanwhile: then nothing is known, and none is added. */
export const believedMs = (goneMs: number) => (goneMs <= longestSleepMs ? goneMs : 0);

/** A reading older than this is an old beat, and none of the present. */
export const oldBeatMs = 3000;
