import { meanOf } from '$lib/physiology/grid';
import { leastInMinute, minuteS, quietTimeS, settlingS } from '$lib/physiology/resting';
import { thresholdRunS } from '$lib/physiology/threshold';
import type { PlanKind } from '$lib/rounds/plan';
import { remainingMs, type Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { promptEveryS } from '$lib/rounds/guided-plans';

/** What the screen shows of a guided measurement while it runs. */
export interface GuidedView {
	/** Mean of the seconds so far that have a reading, bpm. */
	meanBpm?: number;
	/** Lowest mean of 60 s so far, without the first minute, bpm; a resting measurement only. */
	lowestBpm?: number;
	/** Share of the seconds so far that have a reading, 0 to 1. */
	coverage?: number;
	/** Whether the strap sends RR intervals. */
	hasRr: boolean;
	/** How often more pace was called for. */
	prompts: number;
	/** Until the next call; absent after the last. */
	nextPromptMs?: number;
}

/** A guided measurement while it runs: counters carried forward second by second, and a ring of one minute. */
export class LiveGuided {
	#passed = 0;
	#sum = 0;
	#count = 0;
	#minute: number[] = [];
	#lowest: number | undefined;
	#hasRr = false;

	constructor(private readonly kind: PlanKind) {}

	/** The same measurement so far, to be carried on separately. */
	copy(): LiveGuided {
		const copy = new LiveGuided(this.kind);
		copy.#passed = this.#passed;
		copy.#sum = this.#sum;
		copy.#count = this.#count;
		copy.#minute = [...this.#minute];
		copy.#lowest = this.#lowest;
		copy.#hasRr = this.#hasRr;
		return copy;
	}

	push(reading: Reading): void {
		this.#hasRr ||= reading.rrMs.length > 0;
	}

	/** Takes second `s` of the measured time, second by second; NaN is a gap. What comes after its length is none of it. */
	take(s: number, bpm: number): void {
		if (this.kind === 'threshold run' && s >= thresholdRunS) return;
		this.#passed = s + 1;
		if (!Number.isNaN(bpm)) {
			this.#sum += bpm;
			this.#count++;
		}
		if (this.kind !== 'resting' || s < settlingS || s >= quietTimeS) return;
		this.#minute.push(bpm);
		if (this.#minute.length > minuteS) this.#minute.shift();
		const mean = meanOf(Float64Array.from(this.#minute), 0, minuteS, leastInMinute);
		if (mean !== undefined) this.#lowest = Math.min(this.#lowest ?? Infinity, mean);
	}

	viewAt(phase: Phase | undefined, nowMs: number): GuidedView {
		const everyMs = (promptEveryS({ kind: this.kind }) ?? Infinity) * 1000;
		const lengthMs = phase ? remainingMs(phase, phase.startMs) : 0;
		const ranMs = phase?.kind === 'work' ? lengthMs - remainingMs(phase, nowMs) : 0;
		const prompts = Math.floor(ranMs / everyMs);
		const nextMs = (prompts + 1) * everyMs;
		return {
			meanBpm: this.#count > 0 ? this.#sum / this.#count : undefined,
			lowestBpm: this.#lowest,
			coverage: this.#passed > 0 ? this.#count / this.#passed : undefined,
			hasRr: this.#hasRr,
			prompts,
			nextPromptMs: phase?.kind === 'work' && nextMs < lengthMs ? nextMs - ranMs : undefined
		};
	}
}
