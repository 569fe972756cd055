import { firstIndex } from './first-index';

/**
 * Heart rate on a 1 Hz grid, in bpm. Entry i stands for the second [i, i + 1) counted from the grid's origin;
 * NaN is a gap. Positions on a grid are whole seconds unless a function says otherwise.
 */
export type Seconds = Float64Array;

/** One packet's rate as the grid needs it. */
export interface Reading {
	/** Arrival, milliseconds on the same clock as the grid's origin. */
	ms: number;
	/** Beats per minute as sent; 0, below 30, above 240 and NaN are no rate. */
	bpm: number;
	contact: 'not supported' | 'no contact' | 'contact';
}

const lowestBpm = 30;
const highestBpm = 240;
/**
 * At the end of its second, a reading may be this old and still stand for that second: a strap sends once a
 * second, so this bridges one late or lost packet and no more.
 */
export const longestHoldMs = 2000;

const firstReadings = 60;
const plausibleAmongFirst = 54;

/**
 * Can this number be a heart rate? 30 to 240 bpm, both included (own rule).
 *
 * @example isPlausibleBpm(241) // false
 */
export function isPlausibleBpm(bpm: number): boolean {
	return bpm >= lowestBpm && bpm <= highestBpm;
}

/**
 * Finds out whether a strap's reports of skin contact mean anything. Some straps announce a contact sensor and
 * never report contact. Where none of the first 60 readings has contact while at least 54 of them carry a plausible
 * rate, contact counts as not supported (own rule): read such a strap's "no contact" as "not supported", and say so
 * on the page. It is a property of the strap on the chest: another strap, another trial.
 *
 * @example new ContactTrial().push({ ms: 0, bpm: 92, contact: 'contact' }) // true
 */
export class ContactTrial {
	#count = 0;
	#plausible = 0;
	#announced = false;

	/**
	 * Takes the strap's next reading, in order of arrival, until there is an answer.
	 *
	 * @returns false where contact is not supported; true where it is; undefined while fewer than 60 readings and
	 *   no contact among them leave it open
	 */
	push({ bpm, contact }: Reading): boolean | undefined {
		if (contact === 'contact') return true;
		if (contact === 'no contact') this.#announced = true;
		if (isPlausibleBpm(bpm)) this.#plausible++;
		if (++this.#count < firstReadings) return undefined;
		return this.#announced && this.#plausible < plausibleAmongFirst;
	}
}

/**
 * What a trial (`ContactTrial`) says of a strap's reports of skin contact.
 *
 * @param readings all readings of one strap in order of arrival, or at least its first 60
 * @example isContactSupported([{ ms: 0, bpm: 92, contact: 'contact' }]) // true
 */
export function isContactSupported(readings: readonly Reading[]): boolean | undefined {
	const trial = new ContactTrial();
	for (const reading of readings) {
		const isSupported = trial.push(reading);
		if (isSupported !== undefined) return isSupported;
	}
	return undefined;
}

/**
 * Puts readings on a 1 Hz grid. Each entry holds the last reading that arrived before the entry's end, at most
 * 2 s old at that end; otherwise it is a gap. A reading without contact, or with a rate that is none (0, under
 * 30 or over 240 bpm), makes a gap until the next good reading. Own rule; the hold is the only smoothing.
 *
 * Work is proportional to the readings inside the grid and to its length, wherever in the session it lies.
 *
 * @param readings in order of arrival, `ms` never falling
 * @param fromMs the grid's origin; a rest is gridded afresh from a whole number of seconds before its bell
 * @param lengthS length in seconds, 0 or more; a fraction is cut off
 * @param beforeMs readings from here on are none of the grid's, also where its last second reaches beyond
 * @throws RangeError where the origin or the length is no finite number or the length is negative
 * @example secondsOf([{ ms: 400, bpm: 150, contact: 'contact' }], 0, 4) // 150, 150, NaN, NaN
 */
export function secondsOf(
	readings: readonly Reading[],
	fromMs: number,
	lengthS: number,
	beforeMs = Infinity
): Seconds {
	if (!Number.isFinite(fromMs) || !Number.isFinite(lengthS) || lengthS < 0) {
		throw new RangeError(
			`A grid needs a finite start and a length of 0 s or more, not ${fromMs} ms and ${lengthS} s.`
		);
	}
	const seconds = new Float64Array(Math.floor(lengthS));
	let next = firstIndex(readings, ({ ms }) => ms >= fromMs + 1000 - longestHoldMs);
	let last: Reading | undefined;
	for (let i = 0; i < seconds.length; i++) {
		const endMs = fromMs + (i + 1) * 1000;
		const untilMs = Math.min(endMs, beforeMs);
		for (; next < readings.length && readings[next]!.ms < untilMs; next++) last = readings[next];
		seconds[i] = entryOf(last, endMs);
	}
	return seconds;
}

/**
 * The grid's entry for the second that ends at `endMs`, bpm: the rate of the last reading before it, or NaN for a gap
 * (see `secondsOf`). For grids that are carried forward second by second.
 *
 * @param last the newest reading of all that had arrived; one from `endMs` on stands for a later second
 * @example entryOf({ ms: 400, bpm: 150, contact: 'contact' }, 3000) // NaN: too old
 */
export function entryOf(last: Reading | undefined, endMs: number): number {
	const isHeld = last !== undefined && last.ms < endMs && endMs - last.ms <= longestHoldMs;
	return isHeld && isUsable(last) ? last.bpm : NaN;
}

/** Whether a reading can stand for the present: its rate is one, and the strap does not say that it is off the skin. */
export function isUsable({ bpm, contact }: Reading): boolean {
	return isPlausibleBpm(bpm) && contact !== 'no contact';
}

/**
 * How many entries of [fromS, toS) have a value. What lies outside the grid has none.
 *
 * @example countOf(Float64Array.of(150, NaN, 152), 0, 3) // 2
 */
export function countOf(seconds: Seconds, fromS: number, toS: number): number {
	let count = 0;
	const end = Math.min(toS, seconds.length);
	for (let i = Math.max(0, fromS); i < end; i++) if (!Number.isNaN(seconds[i])) count++;
	return count;
}

/**
 * Share of the entries of [fromS, toS) that have a value, 0 to 1. What lies outside the grid has none.
 *
 * @returns undefined for an empty window
 * @example coverageOf(Float64Array.of(150, NaN), 0, 2) // 0.5
 */
export function coverageOf(seconds: Seconds, fromS: number, toS: number): number | undefined {
	if (!(toS > fromS)) return undefined;
	return countOf(seconds, fromS, toS) / (toS - fromS);
}

/**
 * Mean rate in bpm over the entries of [fromS, toS) that have a value.
 *
 * @param atLeast refuse where fewer entries than this have a value; 1 or more
 * @returns undefined where it is refused, and where the window does not lie wholly inside the grid: its
 *   seconds have not been lived yet, or were not asked for
 * @example meanOf(Float64Array.of(150, NaN, 154), 0, 3, 2) // 152
 */
export function meanOf(seconds: Seconds, fromS: number, toS: number, atLeast = 1): number | undefined {
	if (!(fromS >= 0) || !(toS <= seconds.length)) return undefined;
	let sum = 0;
	let count = 0;
	for (let i = fromS; i < toS; i++) {
		const bpm = seconds[i]!;
		if (Number.isNaN(bpm)) continue;
		sum += bpm;
		count++;
	}
	return count >= Math.max(1, atLeast) ? sum / count : undefined;
}
