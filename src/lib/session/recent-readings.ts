/** As long as readings are kept before a bell that has yet to ring, or before Start. */
const keptMs = 90_000;

/** The readings of the last 90 seconds, in order of arrival: as much as anything looks back on live. */
export class RecentReadings<Reading extends { ms: number }> {
	#readings: Reading[] = [];

	get all(): readonly Reading[] {
		return this.#readings;
	}

	push(reading: Reading): void {
		this.#readings.push(reading);
		while (this.#readings[0]!.ms < reading.ms - keptMs) this.#readings.shift();
	}

	/** The same readings, to be gone on with separately. */
	copy(): RecentReadings<Reading> {
		const copy = new RecentReadings<Reading>();
		copy.#readings = [...this.#readings];
		return copy;
	}
}
