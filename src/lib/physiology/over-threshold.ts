/** A stretch of one grid, in seconds from its origin; fractions are allowed. */
export interface Span {
	startS: number;
	endS: number;
}

/** One round of work on a grid, in seconds from its origin; fractions are allowed. */
export interface WorkRound extends Span {
	/**
	 * Where it would have ended had nobody cut it short, pauses that are over included; the burst is measured from
	 * here. Infinity where nobody knows: then there is no burst.
	 */
	plannedEndS: number;
	/** Not counted as work; each one ends a spell. Infinity ends one that is open. */
	pauses?: readonly Span[];
}

/** What one round spent over the threshold. Only spells of at least the shortest length count. */
export interface OverThreshold {
	/** Seconds in spells over the threshold, outside the closing burst. */
	overS: number;
	/** Seconds in spells over the threshold inside the closing burst, where it is allowed. */
	burstOverS: number;
	/** The longest spell's seconds outside the burst. */
	longestS: number;
	/** Spells with at least one second outside the burst. */
	spells: number;
	/** Seconds of work so far, pauses left out. */
	workS: number;
	/** Share of these that have a reading, 0 to 1; undefined before the first. Where it is low, so is all else. */
	coverage: number | undefined;
}

export interface OverThresholdOptions {
	/** Length of the closing burst, s; 0 or more. */
	burstS?: number;
	/** Shortest spell that counts, whole seconds, 1 or more. */
	minSpellS?: number;
}

/** What the second just pushed came to. */
export interface OverNow {
	/** Seconds the rate has now stood over the threshold without a break; 0 where it does not. */
	overForS: number;
	/** The second lies in the closing burst. */
	inBurst: boolean;
}

export const defaultBurstS = 10;
export const defaultMinSpellS = 3;

// What is compared are sums and differences of whole milliseconds.
const wholeMs = (s: number) => Math.round(s * 1000);

/** Seconds of work of a round up to `untilS`, pauses left out however they overlap; one that is open has cost nothing yet. */
function workUntil({ startS, pauses = [] }: WorkRound, untilS: number): number {
	let workS = 0;
	let fromS = startS;
	for (const pause of pauses.toSorted((a, b) => a.startS - b.startS)) {
		if (pause.endS === Infinity) continue;
		workS += Math.max(0, Math.min(pause.startS, untilS) - fromS);
		fromS = Math.max(fromS, pause.endS);
	}
	return workS + Math.max(0, untilS - fromS);
}

/**
 * The planned length of a round without its pauses, s: the same at every moment of it.
 *
 * @example plannedWorkOf({ startS: 0, endS: 190, plannedEndS: 190, pauses: [{ startS: 20, endS: 30 }] }) // 180
 */
export function plannedWorkOf(round: WorkRound): number {
	return workUntil(round, round.plannedEndS);
}

/**
 * Counts one round's time over the threshold while it is boxed, with the same work for every second. Fed with
 * a round's entries it ends with the row `overThreshold` gives for them. (Own rule throughout; the heart lags
 * behind the work by 10 to 20 s, so a closing burst mostly shows after the bell.)
 *
 * @example
 * const counter = new OverThresholdCounter(165, 180);
 * counter.push(171, 0).overForS; // 1
 */
export class OverThresholdCounter {
	readonly #thresholdBpm: number;
	readonly #plannedWorkS: number;
	readonly #options: OverThresholdOptions;
	readonly #burstFromS: number;
	readonly #minSpellS: number;
	#nextS = 0;
	#readingS = 0;
	// The open spell, its part before the burst and its part inside.
	#openS = 0;
	#openBurstS = 0;
	#overS = 0;
	#burstOverS = 0;
	#longestS = 0;
	#spells = 0;

	/**
	 * @param thresholdBpm unrounded, more than 0
	 * @param plannedWorkS the round's planned length, s, pauses left out; Infinity where nobody knows it
	 * @throws RangeError where one of them is no such number
	 */
	constructor(thresholdBpm: number, plannedWorkS: number, options: OverThresholdOptions = {}) {
		if (!(thresholdBpm > 0) || !Number.isFinite(thresholdBpm) || Number.isNaN(plannedWorkS)) {
			throw new RangeError(
				`Time over a threshold needs a threshold above 0 bpm and a planned length, not ${thresholdBpm} bpm and ${plannedWorkS} s.`
			);
		}
		this.#thresholdBpm = thresholdBpm;
		this.#plannedWorkS = plannedWorkS;
		this.#options = options;
		this.#burstFromS = plannedWorkS - (options.burstS ?? defaultBurstS);
		this.#minSpellS = options.minSpellS ?? defaultMinSpellS;
	}

	/**
	 * Takes the next second of work.
	 *
	 * @param bpm the grid's entry; NaN for a gap, which ends a spell
	 * @param secondInRound seconds of work before this one, pauses left out. A second already taken changes
	 *   nothing; seconds left out count as gaps.
	 * @param middleS where its middle lies, s of work, pauses left out to the millisecond: it says whether the second
	 *   is one of the burst
	 */
	push(bpm: number, secondInRound: number, middleS = secondInRound + 0.5): OverNow {
		const inBurst = wholeMs(middleS) >= wholeMs(this.#burstFromS);
		if (secondInRound >= this.#nextS) {
			if (secondInRound > this.#nextS) this.breakSpell();
			this.#nextS = secondInRound + 1;
			this.#take(bpm, inBurst);
		}
		return { overForS: this.#openS + this.#openBurstS, inBurst };
	}

	/**
	 * Takes the grid's second `s` of a round, second by second from its first; live and kept rounds are counted by
	 * this alone. A second belongs to a pause, or to the burst, where its middle does.
	 *
	 * @returns undefined for a second that was paused
	 */
	take(bpm: number, s: number, round: WorkRound): OverNow | undefined {
		const middleS = s + 0.5;
		if (round.pauses?.some(({ startS, endS }) => startS <= middleS && middleS < endS)) {
			this.breakSpell();
			return undefined;
		}
		return this.push(bpm, this.#nextS, workUntil(round, middleS));
	}

	/** Ends the open spell: the work was paused. */
	breakSpell(): void {
		this.#openS = 0;
		this.#openBurstS = 0;
	}

	/** The same count so far, to be carried on separately. */
	copy(): OverThresholdCounter {
		const copy = new OverThresholdCounter(this.#thresholdBpm, this.#plannedWorkS, this.#options);
		copy.#nextS = this.#nextS;
		copy.#readingS = this.#readingS;
		copy.#openS = this.#openS;
		copy.#openBurstS = this.#openBurstS;
		copy.#overS = this.#overS;
		copy.#burstOverS = this.#burstOverS;
		copy.#longestS = this.#longestS;
		copy.#spells = this.#spells;
		return copy;
	}

	/** The row of the seconds pushed so far. */
	get row(): OverThreshold {
		return {
			overS: this.#overS,
			burstOverS: this.#burstOverS,
			longestS: this.#longestS,
			spells: this.#spells,
			workS: this.#nextS,
			coverage: this.#nextS > 0 ? this.#readingS / this.#nextS : undefined
		};
	}

	#take(bpm: number, inBurst: boolean): void {
		if (!Number.isNaN(bpm)) this.#readingS++;
		if (!(bpm > this.#thresholdBpm)) {
			this.breakSpell();
			return;
		}
		if (inBurst) this.#openBurstS++;
		else this.#openS++;

		// A spell counts from its first second, but only once it is long enough: then all of it is added at once.
		const spellS = this.#openS + this.#openBurstS;
		if (spellS < this.#minSpellS) return;
		const justCounts = spellS === this.#minSpellS;
		if (justCounts && this.#openS > 0) this.#spells++;
		if (justCounts) {
			this.#overS += this.#openS;
			this.#burstOverS += this.#openBurstS;
		} else if (inBurst) this.#burstOverS++;
		else this.#overS++;
		this.#longestS = Math.max(this.#longestS, this.#openS);
	}
}
