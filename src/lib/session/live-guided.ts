import { entryOf } from '$lib/physiology/grid';
import type { PlanKind } from '$lib/rounds/plan';
import { remainingMs, type Phase } from '$lib/rounds/timeline';
import type { Reading } from './columns';
import { promptEveryS } from './guided-plans';
import { isPausedMiddle, lengthS } from './phase-times';

const settlingS = 60;
const windowS = 60;
const leastInWindow = 54;

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
	#latest: Reading | undefined;
	#phase: Phase | undefined;
	#countedS = 0;
	#passed = 0;
	#sum = 0;
	#count = 0;
	#minute: number[] = [];
	#lowest: number | undefined;
	#hasRr = false;

	constructor(private readonly kind: PlanKind) {}

	push(reading: Reading): void {
		this.#latest = reading;
		this.#hasRr ||= reading.rrMs.length > 0;
	}

	/** Counts the seconds of work that have gone by until `nowMs`; call before `push`. */
	advance(nowMs: number, timeline: readonly Phase[], ignoreContact: boolean): void {
		const work = timeline.findLast((phase) => phase.kind === 'work' && phase.startMs <= nowMs);
		if (!work) return;
		if (this.#phase?.startMs !== work.startMs) this.#countedS = 0;
		this.#phase = work;
		const reachedS = lengthS({ startMs: work.startMs, endMs: Math.min(nowMs, work.endMs) });
		for (; this.#countedS < reachedS; this.#countedS++) {
			if (isPausedMiddle(work, this.#countedS)) continue;
			this.#second(entryOf(this.#latest, work.startMs + (this.#countedS + 1) * 1000, ignoreContact));
		}
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

	#second(bpm: number): void {
		this.#passed++;
		if (!Number.isNaN(bpm)) {
			this.#sum += bpm;
			this.#count++;
		}
		if (this.kind !== 'resting' || this.#passed <= settlingS) return;
		this.#minute.push(bpm);
		if (this.#minute.length > windowS) this.#minute.shift();
		const usable = this.#minute.filter((one) => !Number.isNaN(one));
		if (this.#minute.length < windowS || usable.length < leastInWindow) return;
		const mean = usable.reduce((sum, one) => sum + one, 0) / usable.length;
		this.#lowest = Math.min(this.#lowest ?? Infinity, mean);
	}
}
