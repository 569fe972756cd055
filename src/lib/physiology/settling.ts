import { isPlausibleBpm, longestHoldMs, type Reading } from './grid';

const settledMs = 10_000;
/** Own rule: no heart at rest changes by more between two packets; a dry strap easily does. */
export const steadyStepBpm = 12;

/**
 * A strap that has just been put on a chest says little of its heart at first. Nothing counts before ten steady seconds have
 * come (own rule): plausible rates with contact, none more than two seconds after the one before, none more than 12 bpm from it.
 *
 * @example new Settling().push({ ms: 0, bpm: 92, contact: 'contact' }) // false
 */
export class Settling {
	#isSettled = false;
	#sinceMs: number | undefined;
	#last: Reading | undefined;

	/** Takes the strap's next reading, in order of arrival. Answers whether it counts. */
	push(reading: Reading): boolean {
		if (this.#isSettled) return true;
		const { ms, bpm, contact } = reading;
		const last = this.#last;
		this.#last = reading;
		if (!isPlausibleBpm(bpm) || contact === 'no contact') {
			this.#sinceMs = undefined;
			return false;
		}
		const isOn =
			last !== undefined && ms - last.ms <= longestHoldMs && Math.abs(bpm - last.bpm) <= steadyStepBpm;
		this.#sinceMs = isOn ? (this.#sinceMs ?? ms) : ms;
		return (this.#isSettled = ms - this.#sinceMs >= settledMs);
	}

	copy(): Settling {
		const copy = new Settling();
		copy.#isSettled = this.#isSettled;
		copy.#sinceMs = this.#sinceMs;
		copy.#last = this.#last;
		return copy;
	}
}
