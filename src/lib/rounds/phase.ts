export type PhaseKind = 'warm-up' | 'get ready' | 'work' | 'rest' | 'closing' | 'cool-down';

/**
 * One stretch of a session. Times are elapsed milliseconds, pauses included; a phase covers
 * [startMs, endMs), and the next one starts where it ends.
 */
export interface Phase {
	kind: PhaseKind;
	/** Work: its own number. Rest and closing: the round just boxed. Get ready: the round it leads to. */
	round?: number;
	/** Which of the session's blocks it is of, from the second on; of a rest or a pause, the one just boxed. */
	block?: number;
	/** A rest that is the pause before this block. */
	toBlock?: number;
	/** A rest by heart: it ends when every heart has come down to this share of its threshold, in percent. */
	downToPercent?: number;
	/** From the second try at the same round on: 2, 3, ... Absent for the first. */
	attempt?: number;
	startMs: number;
	/** Infinity while nobody knows when it will end: it stands paused, or the gym's own bell has yet to ring. */
	endMs: number;
	/**
	 * Where the phase would have ended had nobody cut it short; otherwise the same as `endMs`. During an
	 * open pause: where it would end if the pause ended at once without having cost any time. Infinity where
	 * the gym's own bell ends it, also once it has.
	 */
	plannedEndMs: number;
	/** In order, none of no length; the last one lasts to Infinity while it is open. */
	pauses: readonly { fromMs: number; toMs: number }[];
	/** Ended by `next` or `finish`. */
	cutShort?: true;
	/** Work ended by `stop round`. */
	stopped?: true;
	/** Work ended by `repeat round`: it does not count, the same round follows again. */
	repeated?: true;
	/** A rest by heart whose end is known: the hearts have come down, or somebody has made it longer. */
	settled?: 'by heart' | 'by hand';
}

/** What a phase's pauses have cost it, in milliseconds; one that is open has cost nothing yet. */
export function closedPausesMs({ pauses }: Pick<Phase, 'pauses'>): number {
	return pauses.reduce((sum, { fromMs, toMs }) => sum + (toMs === Infinity ? 0 : toMs - fromMs), 0);
}
