import { forecastDrop60, type Drop60Forecast } from '$lib/physiology/forecast';
import { meanOf, secondsOf } from '$lib/physiology/grid';
import { adviceFor, measureRest, type RestMeasure } from '$lib/physiology/recovery';
import type { Reading } from './columns';

/** Seconds before the bell that a rest's grid reaches back: the bell window and the search for the peak. */
const beforeBellS = 10;
/** What is kept of a rest: beyond this the drop at 60 is settled, and only the end of the rest still moves. */
const keptS = 90;
const forecastFromS = 20;
const judgedAtS = 60;
const endWindowS = 5;
const leastInWindow = 3;
const tailMs = (endWindowS + 3) * 1000;

export interface RestTerms {
	hardFromBpm?: number;
	slowingMedicine?: boolean;
}

/** A rest as it is being taken. Seconds count from the bell. */
export interface RestView {
	round: number;
	bellMs: number;
	/** Whole seconds that have gone by. */
	atS: number;
	measure: RestMeasure;
	/** Once second 60 is past: the one plain line that says what to do with the verdict. */
	advice?: string;
	points: { s: number; bpm: number | null }[];
	/** Mean of the last five seconds, bpm; absent where fewer than three of them have a reading. */
	recentBpm?: number;
	forecast?: Drop60Forecast;
}

/**
 * Measures one rest while it runs, on the same functions and the same grid as the record will be measured
 * on. Work per second is bounded: at most 100 grid entries, however long the session or the rest.
 */
export class LiveRest {
	#readings: Reading[];
	/** The last packets, for the end of a rest that goes on after `keptS`. */
	#tail: Reading[] = [];

	constructor(
		readonly round: number,
		readonly bellMs: number,
		recent: readonly Reading[],
		private readonly terms: RestTerms
	) {
		this.#readings = recent.filter((reading) => reading.ms > bellMs - (beforeBellS + 3) * 1000);
	}

	push(reading: Reading): void {
		if (reading.ms < this.bellMs + keptS * 1000) this.#readings.push(reading);
		this.#tail.push(reading);
		while (this.#tail[0] && this.#tail[0].ms < reading.ms - tailMs) this.#tail.shift();
	}

	/** Another strap is worn: a drop from one heart to another's would be nobody's. */
	forget(): void {
		this.#readings = [];
		this.#tail = [];
	}

	/** The view once `elapsedS` whole seconds of the rest have gone by; after 90 s only the drop goes on. */
	viewAt(elapsedS: number, paused: boolean, ignoreContact: boolean): RestView {
		const atS = Math.min(elapsedS, keptS);
		const seconds = secondsOf(this.#readings, this.bellMs - beforeBellS * 1000, beforeBellS + atS, {
			ignoreContact
		});
		const endS = beforeBellS + atS;
		const measure = measureRest(seconds, beforeBellS, endS, { ...this.terms, paused });
		const recentBpm =
			elapsedS > keptS
				? this.#lateBpm(elapsedS, ignoreContact)
				: meanOf(seconds, endS - endWindowS, endS, leastInWindow);
		const lateDrop =
			measure.bellBpm === undefined || recentBpm === undefined ? undefined : measure.bellBpm - recentBpm;
		return {
			round: this.round,
			bellMs: this.bellMs,
			atS,
			measure: elapsedS > keptS ? { ...measure, restDrop: lateDrop } : measure,
			recentBpm,
			advice: elapsedS >= judgedAtS ? (measure.reason ?? adviceFor(measure.verdict)) : undefined,
			points: Array.from(seconds.subarray(beforeBellS), (bpm, s) => ({
				s: s + 1,
				bpm: Number.isNaN(bpm) ? null : bpm
			})),
			forecast:
				atS >= forecastFromS && atS < judgedAtS ? forecastDrop60(seconds, beforeBellS, endS, {}) : undefined
		};
	}

	#lateBpm(elapsedS: number, ignoreContact: boolean): number | undefined {
		const fromMs = this.bellMs + (elapsedS - endWindowS) * 1000;
		const end = secondsOf(this.#tail, fromMs, endWindowS, { ignoreContact });
		return meanOf(end, 0, endWindowS, leastInWindow);
	}
}
