import { meanOf, type Seconds } from './grid';

/** Seconds before the bell that a rest's grid reaches back: the bell window and the search for the peak. */
export const beforeBellS = 10;
/** Length of a window, s. */
export const windowS = 5;
/** Readings that a window needs. */
export const leastInWindow = 3;
/** Entries kept from the bell on: beyond this the drop at 60 is settled, and only the end of the rest still moves. */
export const keptS = 90;
/** The second at which a rest is judged. */
export const judgedAtS = 60;
/** A rest of 59.96 s is a minute whose bells were stamped a little late and a little early. */
export const endGraceS = 0.05;

/**
 * One rest, taken second by second from ten seconds before its bell: all that its measures need, however long it
 * lasts. Live and kept rests are measured from this alone (see `measureRest`). Own rule.
 *
 * @example
 * const taken = new RestTaken();
 * for (let i = 0; i < 70; i++) taken.push(150);
 * taken.restS; // 60
 */
export class RestTaken {
	#first: number[] = [];
	#last: number[] = [];
	#pushedS = 0;
	#withReadingS = 0;

	/** Takes the grid's next entry, bpm; NaN for a gap. */
	push(bpm: number): void {
		if (this.#first.length < beforeBellS + keptS) this.#first.push(bpm);
		this.#last.push(bpm);
		if (this.#last.length > windowS) this.#last.shift();
		if (this.#pushedS++ >= beforeBellS && !Number.isNaN(bpm)) this.#withReadingS++;
	}

	/** Another strap is worn: what was taken is another heart's, and counts as gaps. */
	forget(): void {
		this.#first = this.#first.map(() => NaN);
		this.#last = this.#last.map(() => NaN);
		this.#withReadingS = 0;
	}

	/** Whole seconds since the bell; negative before it. */
	get restS(): number {
		return this.#pushedS - beforeBellS;
	}

	/** Seconds since the bell that have a reading. */
	get withReadingS(): number {
		return this.#withReadingS;
	}

	/** The entries from ten seconds before the bell to 90 after it, as far as they have come. */
	get seconds(): Seconds {
		return Float64Array.from(this.#first);
	}

	/** Mean of the last five seconds, bpm; undefined where fewer than three have a reading. */
	get lastBpm(): number | undefined {
		return meanOf(Float64Array.from(this.#last), 0, windowS, leastInWindow);
	}

	/** The same rest so far, to be taken on separately. */
	copy(): RestTaken {
		const copy = new RestTaken();
		copy.#first = [...this.#first];
		copy.#last = [...this.#last];
		copy.#pushedS = this.#pushedS;
		copy.#withReadingS = this.#withReadingS;
		return copy;
	}
}
