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

const defaultBurstS = 10;
const defaultMinSpellS = 3;

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
		this.#burstFromS = plannedWorkS - (options.burstS ?? defaultBurstS);
		this.#minSpellS = options.minSpellS ?? defaultMinSpellS;
	}

	/**
	 * Takes the next second of work.
	 *
	 * @param bpm the grid's entry; NaN for a gap, which ends a spell
	 * @param secondInRound seconds of work before this one, pauses left out. A second already taken changes
	 *   nothing; seconds left out count as gaps.
	 */
	push(bpm: number, secondInRound: number): OverNow {
		const inBurst = secondInRound >= this.#burstFromS;
		if (secondInRound >= this.#nextS) {
			if (secondInRound > this.#nextS) this.breakSpell();
			this.#nextS = secondInRound + 1;
			this.#take(bpm, inBurst);
		}
		return { overForS: this.#openS + this.#openBurstS, inBurst };
	}

	/** Ends the open spell: the work was paused. */
	breakSpell(): void {
		this.#openS = 0;
		this.#openBurstS = 0;
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
