import type { Seconds } from './grid';
import { countRound } from './over-spells';
import type { OverThreshold, OverThresholdOptions, WorkRound } from './over-threshold';

/** Share of the threshold heart rate, in words; told apart on the screen by pattern and position too. */
export type IntensityBand = 'easy' | 'working' | 'near threshold' | 'over threshold';

/** Seconds of work in each band, those over the threshold in the closing burst apart, and those without a reading. */
export type TimeInBands = Record<IntensityBand | 'closing burst' | 'unknown', number>;

/**
 * The band in which a rate lies, by its share of the threshold: easy under 80 %, working 80 to under 90, near the
 * threshold 90 to 100, over it strictly above (own rule). Of one rate only: a second above counts as time over the
 * threshold where it belongs to a spell that counts (`timeInBands`).
 *
 * @param bpm a rate, or NaN for a gap
 * @param thresholdBpm unrounded, more than 0
 * @returns undefined where either is unknown
 * @example bandOf(153, 170) // 'near threshold'
 */
export function bandOf(bpm: number, thresholdBpm: number): IntensityBand | undefined {
	if (!Number.isFinite(bpm) || !(thresholdBpm > 0)) return undefined;
	// Multiplied out, so that a rate exactly on an edge is not lost to the rounding of a division.
	if (10 * bpm < 8 * thresholdBpm) return 'easy';
	if (10 * bpm < 9 * thresholdBpm) return 'working';
	return bpm > thresholdBpm ? 'over threshold' : 'near threshold';
}

/**
 * Adds up the bands of an athlete's work, second by second, with the same work for every second. What is over the
 * threshold is not judged here but taken from the rows of the rounds, so that bands and rows cannot differ.
 *
 * @example
 * const counter = new BandCounter(170);
 * counter.push(153);
 * counter.bands(); // near threshold 1
 */
export class BandCounter {
	#easyS = 0;
	#workingS = 0;
	#from90S = 0;
	#unknownS = 0;
	#overS = 0;
	#burstOverS = 0;

	/** @param thresholdBpm unrounded, more than 0 */
	constructor(private readonly thresholdBpm: number) {}

	/** Takes one more second of work that was not paused; NaN is a gap. */
	push(bpm: number): void {
		const band = bandOf(bpm, this.thresholdBpm);
		if (band === undefined) this.#unknownS++;
		else if (band === 'easy') this.#easyS++;
		else if (band === 'working') this.#workingS++;
		else this.#from90S++;
	}

	/** Takes the row of a round that is over. */
	close({ overS, burstOverS }: Pick<OverThreshold, 'overS' | 'burstOverS'>): void {
		this.#overS += overS;
		this.#burstOverS += burstOverS;
	}

	/** @param running the row of the round that still runs */
	bands(running?: Pick<OverThreshold, 'overS' | 'burstOverS'>): TimeInBands {
		const overS = this.#overS + (running?.overS ?? 0);
		const burstOverS = this.#burstOverS + (running?.burstOverS ?? 0);
		return {
			easy: this.#easyS,
			working: this.#workingS,
			'near threshold': this.#from90S - overS - burstOverS,
			'over threshold': overS,
			'closing burst': burstOverS,
			unknown: this.#unknownS
		};
	}

	/** The same count so far, to be carried on separately. */
	copy(): BandCounter {
		const copy = new BandCounter(this.thresholdBpm);
		copy.#easyS = this.#easyS;
		copy.#workingS = this.#workingS;
		copy.#from90S = this.#from90S;
		copy.#unknownS = this.#unknownS;
		copy.#overS = this.#overS;
		copy.#burstOverS = this.#burstOverS;
		return copy;
	}
}

/**
 * Seconds of work in each band, pauses left out. Over the threshold are the seconds of `overThreshold` and no
 * others, those of the closing burst apart; seconds above it that are in no counted spell are near it (own rule).
 *
 * @param work the rounds, each with the grid it lies on
 * @param thresholdBpm unrounded, more than 0
 * @returns seconds; all together they are the work
 * @throws RangeError where the threshold is no such number
 * @example
 * const round = { startS: 0, endS: 4, plannedEndS: Infinity };
 * timeInBands([{ seconds: Float64Array.of(130, 171, 160, NaN), round }], 170);
 * // easy 1, near threshold 2, unknown 1
 */
export function timeInBands(
	work: readonly { seconds: Seconds; round: WorkRound }[],
	thresholdBpm: number,
	options: OverThresholdOptions = {}
): TimeInBands {
	const counter = new BandCounter(thresholdBpm);
	for (const { seconds, round } of work)
		counter.close(countRound(seconds, round, thresholdBpm, options, (_s, bpm) => counter.push(bpm)).row);
	return counter.bands();
}
