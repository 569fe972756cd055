import { energyOf } from '$lib/physiology/energy';
import { bandOf, type TimeInBands } from '$lib/physiology/intensity';
import type { Activity } from '$lib/rounds/plan';
import type { AthleteSnapshot } from '$lib/record/record';
import { energyActivityOf } from '$lib/review/session-costs';

/** What the session has cost so far, carried forward second by second. */
export interface CostsSoFar {
	/** Seconds of work by share of the threshold; absent without a threshold. */
	bands?: TimeInBands;
	/** Gross, kJ; absent where the athlete's numbers do not allow it. */
	energy?: { lowKJ: number; highKJ: number };
}

/** Adds up what `costsOf` will say of the record, with the same work for every second. */
export class LiveCosts {
	#bands: TimeInBands = { easy: 0, working: 0, 'near the line': 0, 'over the line': 0, unknown: 0 };
	#lowKJ = 0;
	#highKJ = 0;
	#hasEnergy = false;

	constructor(
		private readonly athlete: AthleteSnapshot,
		private readonly activity: Activity
	) {}

	/** The same costs so far, to be carried on separately. */
	copy(): LiveCosts {
		const copy = new LiveCosts(this.athlete, this.activity);
		copy.#bands = { ...this.#bands };
		copy.#lowKJ = this.#lowKJ;
		copy.#highKJ = this.#highKJ;
		copy.#hasEnergy = this.#hasEnergy;
		return copy;
	}

	/** Takes one more second of work that was not paused, from the grid of its round; NaN is a gap. */
	pushWork(bpm: number): void {
		const { thresholdBpm } = this.athlete;
		if (thresholdBpm !== undefined) this.#bands[bandOf(bpm, thresholdBpm) ?? 'unknown']++;
	}

	/** Takes one more second of the session, work or not; NaN is a gap. */
	push(bpm: number): void {
		if (Number.isNaN(bpm)) return;
		const energy = energyOf(
			Float64Array.of(bpm),
			{ ...this.athlete, vo2Max: this.athlete.vo2max },
			{ activity: energyActivityOf(this.activity) }
		).value;
		if (!energy) return;
		this.#hasEnergy = true;
		this.#lowKJ += energy.lowKJ;
		this.#highKJ += energy.highKJ;
	}

	get soFar(): CostsSoFar {
		return {
			bands: this.athlete.thresholdBpm === undefined ? undefined : { ...this.#bands },
			energy: this.#hasEnergy ? { lowKJ: this.#lowKJ, highKJ: this.#highKJ } : undefined
		};
	}
}
