import type { ForecastPrior } from '$lib/physiology/drop-beliefs';
import { forecastDrop60, type Drop60Forecast } from '$lib/physiology/forecast';
import { adviceFor, headingAdvice, isVerySmallFall, smallFallAdvice } from '$lib/physiology/advice';
import { restMeasureOf, type RestMeasure, type RestOptions } from '$lib/physiology/recovery';
import type { Usual } from '$lib/physiology/usual';
import { beforeBellS, judgedAtS, keptS, type RestTaken } from '$lib/physiology/rest-taken';

const forecastFromS = 20;
/** From here on a forecast is sure enough to act on, and there is a rest left to act in. */
const adviceFromS = 40;

export interface RestTerms extends Omit<RestOptions, 'paused'> {
	ageYears?: number;
	/** The athlete's own usual drop, where it is known. */
	usual?: Usual;
}

/** A rest as it is being taken. Seconds count from the bell. */
export interface RestView {
	round: number;
	bellMs: number;
	/** Whole seconds that have gone by. */
	atS: number;
	measure: RestMeasure;
	/** From second 40 on where it is heading; once second 60 is past, what to do with the verdict. */
	advice?: string;
	/** The heart hardly fell in the minute after a hard round. */
	isVerySmallFall?: true;
	points: { s: number; bpm: number | null }[];
	/** Mean of the last five seconds, bpm; absent where fewer than three of them have a reading. */
	recentBpm?: number;
	readonly forecast?: Drop60Forecast;
}

/**
 * Shows one rest while it runs, measured by the function that measures the record. Work per second is bounded: at
 * most 100 grid entries, however long the session or the rest.
 */
export class LiveRest {
	/**
	 * @param taken holds the seconds before the bell already
	 * @param prior what the athlete's earlier rests let expect of this one
	 */
	constructor(
		readonly round: number,
		readonly bellMs: number,
		private readonly terms: RestTerms,
		private readonly taken: RestTaken,
		private readonly prior: ForecastPrior
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
		return new LiveRest(this.round, this.bellMs, this.terms, this.taken.copy(), this.prior);
	}

	/** The view of the seconds so far; after 90 s only the drop goes on. */
	view(paused: boolean): RestView {
		const { restS, seconds, lastBpm } = this.taken;
		const atS = Math.min(restS, keptS);
		const measure = restMeasureOf(this.taken, restS, { ...this.terms, paused });
		// Worked out when it is looked at: it costs more than all the rest, and catching up passes most seconds unseen.
		let looked: { forecast?: Drop60Forecast } | undefined;
		const advise = (forecast: Drop60Forecast | undefined) => this.#advice(measure, forecast, restS, paused);
		const forecastNow = () =>
			restS >= forecastFromS && restS < judgedAtS
				? forecastDrop60(seconds, beforeBellS, beforeBellS + restS, this.prior)
				: undefined;
		const isSmall = isVerySmallFall(measure, this.terms.ageYears);
		return {
			round: this.round,
			bellMs: this.bellMs,
			atS,
			measure,
			recentBpm: lastBpm,
			...(isSmall && { isVerySmallFall: isSmall }),
			points: Array.from(seconds.subarray(beforeBellS), (bpm, s) => ({
				s: s + 1,
				bpm: Number.isNaN(bpm) ? null : bpm
			})),
			get forecast() {
				return (looked ??= { forecast: forecastNow() }).forecast;
			},
			get advice() {
				return advise(this.forecast);
			}
		};
	}

	#advice(
		measure: RestMeasure,
		forecast: Drop60Forecast | undefined,
		restS: number,
		paused: boolean
	): string | undefined {
		if (restS < judgedAtS) {
			if (restS < adviceFromS || !forecast) return undefined;
			return headingAdvice(forecast, measure.bellBpm, { ...this.terms, paused });
		}
		if (isVerySmallFall(measure, this.terms.ageYears)) return smallFallAdvice;
		return measure.reason ?? adviceFor(measure);
	}
}
