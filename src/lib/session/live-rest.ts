import { forecastDrop60, type Drop60Forecast } from '$lib/physiology/forecast';
import { adviceFor, restMeasureOf, type RestMeasure } from '$lib/physiology/recovery';
import type { RestTaken } from '$lib/physiology/rest-taken';
import { beforeBellS, judgedAtS, keptS } from '$lib/physiology/rest-taken';

const forecastFromS = 20;

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
 * Shows one rest while it runs, measured by the function that measures the record. Work per second is bounded: at
 * most 100 grid entries, however long the session or the rest.
 */
export class LiveRest {
	/** @param taken holds the seconds before the bell already */
	constructor(
		readonly round: number,
		readonly bellMs: number,
		private readonly terms: RestTerms,
		private readonly taken: RestTaken
	) {}

	/** Takes the next second; NaN is a gap. */
	push(bpm: number): void {
		this.taken.push(bpm);
	}

	/** Another strap is worn: a drop from one heart to another's would be nobody's. */
	forget(): void {
		this.taken.forget();
	}

	copy(): LiveRest {
		return new LiveRest(this.round, this.bellMs, this.terms, this.taken.copy());
	}

	/** The view of the seconds so far; after 90 s only the drop goes on. */
	view(paused: boolean): RestView {
		const { restS, seconds, lastBpm } = this.taken;
		const atS = Math.min(restS, keptS);
		const measure = restMeasureOf(this.taken, restS, { ...this.terms, paused });
		return {
			round: this.round,
			bellMs: this.bellMs,
			atS,
			measure,
			recentBpm: lastBpm,
			advice: restS >= judgedAtS ? (measure.reason ?? adviceFor(measure.verdict)) : undefined,
			points: Array.from(seconds.subarray(beforeBellS), (bpm, s) => ({
				s: s + 1,
				bpm: Number.isNaN(bpm) ? null : bpm
			})),
			forecast:
				restS >= forecastFromS && restS < judgedAtS
					? forecastDrop60(seconds, beforeBellS, beforeBellS + restS, {})
					: undefined
		};
	}
}
