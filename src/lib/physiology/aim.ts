import type { IntensityBand } from './intensity';
import type { WorkRound } from './over-threshold';

/** Rates that an aim asks for, bpm; both ends are in it unless one is said to lie outside. */
export interface RateRange {
	lowBpm: number;
	/** Infinity where more is never too much. */
	highBpm: number;
	isLowOut?: true;
	isHighOut?: true;
}

/** Seconds of one round against its aim, those of the beginning left out. */
export interface TimeInAim {
	inS: number;
	belowS: number;
	aboveS: number;
	/** Without a reading. */
	unknownS: number;
}

/** So much of each round is not judged: the heart lags 10 to 20 s behind the work, and climbs first (own rule). */
export const unjudgedS = 30;

/**
 * The rates of a band, as `bandOf` tells them apart: easy under 80 % of the threshold, working 80 to under 90, near it
 * 90 to 100, over it strictly above (own rule).
 *
 * @param thresholdBpm unrounded, more than 0
 * @example rangeOfBand('working', 170) // 136 and more, under 153
 */
export function rangeOfBand(band: IntensityBand, thresholdBpm: number): RateRange {
	const share = (tenths: number) => (tenths * thresholdBpm) / 10;
	switch (band) {
		case 'easy':
			return { lowBpm: 0, highBpm: share(8), isHighOut: true };
		case 'working':
			return { lowBpm: share(8), highBpm: share(9), isHighOut: true };
		case 'near threshold':
			return { lowBpm: share(9), highBpm: thresholdBpm };
		case 'over threshold':
			return { lowBpm: thresholdBpm, highBpm: Infinity, isLowOut: true };
	}
}

/**
 * The rates of a share of a measured maximum, both ends in it.
 *
 * @example rangeOfShare(80, 90, 190) // 152 to 171
 */
export function rangeOfShare(fromPercent: number, toPercent: number, maxBpm: number): RateRange {
	return { lowBpm: (fromPercent * maxBpm) / 100, highBpm: (toPercent * maxBpm) / 100 };
}

/** Where a rate lies against an aim; undefined for a gap. */
export function sideOf(bpm: number, { lowBpm, highBpm, isLowOut, isHighOut }: RateRange) {
	if (!Number.isFinite(bpm)) return undefined;
	if (bpm < lowBpm || (isLowOut && bpm === lowBpm)) return 'below';
	return bpm > highBpm || (isHighOut && bpm === highBpm) ? 'above' : 'in';
}

/**
 * Counts one round's time in its aim, second by second, with the same work for every second: live and kept rounds by
 * this alone. The first 30 seconds of work are not judged, pauses are no work (own rule). It is counted second by
 * second, and so is not the time over the threshold, which needs a spell.
 *
 * @example
 * const counter = new AimCounter(rangeOfBand('near threshold', 170));
 * counter.take(160, 30, { startS: 0, endS: 180, plannedEndS: 180 });
 * counter.time; // in it 1
 */
export class AimCounter {
	#workS = 0;
	#time: TimeInAim = { inS: 0, belowS: 0, aboveS: 0, unknownS: 0 };

	constructor(private readonly range: RateRange) {}

	/**
	 * Takes the grid's second `s` of a round, second by second from its first. It belongs to a pause where its middle does.
	 *
	 * @param bpm the grid's entry; NaN for a gap
	 */
	take(bpm: number, s: number, { pauses = [] }: Pick<WorkRound, 'pauses'>): void {
		const middleS = s + 0.5;
		if (pauses.some(({ startS, endS }) => startS <= middleS && middleS < endS)) return;
		if (++this.#workS <= unjudgedS) return;
		const member = `${sideOf(bpm, this.range) ?? 'unknown'}S` as const;
		this.#time = { ...this.#time, [member]: this.#time[member] + 1 };
	}

	/** The same object until another second is judged. */
	get time(): TimeInAim {
		return this.#time;
	}

	copy(): AimCounter {
		const copy = new AimCounter(this.range);
		copy.#workS = this.#workS;
		copy.#time = this.#time;
		return copy;
	}
}
