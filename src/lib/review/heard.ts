import { isContactSupported } from '$lib/physiology/grid';
import { Settling } from '$lib/physiology/settling';
import { unpackReadings, type Reading } from '$lib/record/columns';
import type { SessionRecord } from '$lib/record/body';

/** A reading of a strap whose word on contact means nothing, as the measures are to read it. */
export function withoutContact(reading: Reading): Reading {
	return reading.contact === 'no contact' ? { ...reading, contact: 'not supported' } : reading;
}

/** The readings of a record for the measures, and whether the word of a strap on contact was left aside. */
export interface Heard {
	readings: readonly Reading[];
	ignoresContact: boolean;
}

/**
 * The readings of a record as the measures take them. What each strap says of contact is judged afresh, by that
 * strap's own first readings (see `ContactTrial`), and of one that was handed over nothing counts before it has settled on
 * its new chest (see `Settling`); the live corner judges by the same trials.
 */
export function heardIn({ head, body }: SessionRecord): Heard {
	const readings = unpackReadings(body);
	const heard: Reading[] = [];
	let ignoresContact = false;
	let from = 0;
	const changes = head.strapChanges ?? [];
	// A reading at the very moment of a change is still the strap's before it.
	for (const [i, toMs] of [...changes.map(({ ms }) => ms), Infinity].entries()) {
		const settling = changes[i - 1]?.handOver === 'put on' ? new Settling() : undefined;
		let to = from;
		while (to < readings.length && readings[to]!.ms <= toMs) to++;
		const ofStrap = readings.slice(from, to);
		const isIgnored = isContactSupported(ofStrap) === false;
		ignoresContact ||= isIgnored;
		for (const sent of ofStrap) {
			const reading = isIgnored ? withoutContact(sent) : sent;
			if (!settling || settling.push(reading)) heard.push(reading);
		}
		from = to;
	}
	return { readings: heard, ignoresContact };
}

/** The newest readings, for grids that are carried forward: what stood last before a moment that has come. */
export class Newest {
	#latest: Reading | undefined;
	/** The last one of an earlier moment than the latest. */
	#earlier: Reading | undefined;

	push(reading: Reading): void {
		if (this.#latest && this.#latest.ms < reading.ms) this.#earlier = this.#latest;
		this.#latest = reading;
	}

	/** @param ms not before the latest reading */
	before(ms: number): Reading | undefined {
		return this.#latest && this.#latest.ms < ms ? this.#latest : this.#earlier;
	}

	copy(): Newest {
		const copy = new Newest();
		copy.#latest = this.#latest;
		copy.#earlier = this.#earlier;
		return copy;
	}
}
