/** As long as a deleted athlete or session can be brought back: a day. */
export const keptDeletedMs = 24 * 3_600_000;
