import { pulseRule } from '$lib/bell/pulse-rule';
import { entryOf, isContactSupported, isUsable } from '$lib/physiology/grid';
import { OverThresholdCounter, type OverNow, type OverThreshold } from '$lib/physiology/over-threshold';
import { hardFrom } from '$lib/physiology/recovery';
import type { Activity } from '$lib/rounds/plan';
import { plannedRunMs, type Phase } from '$lib/rounds/timeline';
import type { Reading } from './columns';
import { LiveCosts, type CostsSoFar } from './live-costs';
import { LiveRest, type RestTerms, type RestView } from './live-rest';
import { isPausedMiddle, isRest, lengthS, livedFrom, pausedNearBell } from './phase-times';
import type { AthleteSnapshot } from './record';

const ringMs = 90_000;
/** The newest packet may be this old before the screen stops showing it as the present. */
const shownMs = 3000;

/** A phase keeps its start, whatever is amended, and a rest may turn into the closing minute or back. */
const isSamePhase = (a: Phase, b: Phase) =>
	a.startMs === b.startMs && (a.kind === b.kind || (isRest(a) && isRest(b)));

/** What became of a round and its rest, for the strip of all rounds so far. */
export interface LiveRound {
	round: number;
	attempt: number;
	/** Absent without a threshold. */
	over?: OverThreshold;
	rest?: RestView;
}

/**
 * One athlete while the session runs: the present rate, seconds over the threshold, the rest being taken.
 * Everything is carried forward second by second; nothing here grows with the session but the list of
 * rounds.
 */
export class LiveCorner {
	#ring: Reading[] = [];
	#latest: Reading | undefined;
	/** The signal was lost after the newest packet: that one is none of the present, however young. */
	#isCut = false;
	/** The first packets, until they have told whether the strap measures contact. */
	#trial: Reading[] | undefined = [];
	#ignoresContact = false;
	#phase: Phase | undefined;
	/** Whole seconds of the present phase that have gone by. */
	#countedS = 0;
	/** Those of them that were work. */
	#workedS = 0;
	#counter: OverThresholdCounter | undefined;
	#overNow: OverNow | undefined;
	#isPulseDue = pulseRule();
	#rest: LiveRest | undefined;
	readonly #costs: LiveCosts;
	readonly #terms: RestTerms;
	readonly rounds: LiveRound[] = [];
	/** The rest that runs or ran last. */
	restView: RestView | undefined;
	/** Elapsed ms at which the rest that ran last was over; absent before the first, and while one runs. */
	restEndedMs: number | undefined;

	/** Called when the over-threshold pulse is due. */
	pulseDue: (() => void) | undefined;

	constructor(
		readonly athlete: AthleteSnapshot,
		activity: Activity,
		/** Elapsed ms at which the athlete joined in mid-session. */
		private readonly joinedMs?: number
	) {
		this.#costs = new LiveCosts(athlete, activity);
		this.#terms = { hardFromBpm: hardFrom(athlete), slowingMedicine: athlete.slowingMedicine };
	}

	/** The rate to show at `nowMs`: undefined where the last packet is old, implausible or without contact. */
	bpmAt(nowMs: number): number | undefined {
		const latest = this.#isCut ? undefined : this.#latest;
		return latest && isUsable(latest, this.#ignoresContact) && nowMs - latest.ms <= shownMs
			? latest.bpm
			: undefined;
	}

	/** Elapsed ms of the newest packet since the signal is there, usable or not. */
	get latestMs(): number | undefined {
		return this.#isCut ? undefined : this.#latest?.ms;
	}

	/** False where the strap reports that it does not touch the skin, and such reports mean anything. */
	get hasContact(): boolean {
		return this.#ignoresContact || this.#latest?.contact !== 'no contact';
	}

	/** The strap has no contact sensor, or announces one and never reports contact. */
	get ignoresContact(): boolean {
		return this.#ignoresContact;
	}

	/** Seconds the rate has now stood over the threshold without a break, in work; else 0. */
	get overForS(): number {
		return this.#overNow?.overForS ?? 0;
	}

	get costs(): CostsSoFar {
		return this.#costs.soFar;
	}

	/** The signal was lost: nothing is shown as the present rate before the next packet. */
	cut(): void {
		this.#isCut = true;
	}

	/** Takes a packet; `advance` must have been called for its moment. */
	push(reading: Reading): void {
		this.#latest = reading;
		this.#isCut = false;
		this.#ring.push(reading);
		while (this.#ring[0] && this.#ring[0].ms < reading.ms - ringMs) this.#ring.shift();
		this.#rest?.push(reading);
		if (!this.#trial) return;
		this.#trial.push(reading);
		const isSupported = isContactSupported(this.#trial);
		if (isSupported === undefined) return;
		this.#ignoresContact = !isSupported;
		this.#trial = undefined;
	}

	/** From now on packets are those of another strap; what was counted of the first stays counted. */
	changeStrap(): void {
		this.#isCut = true;
		this.#ring = [];
		this.#rest?.forget();
	}

	/** Counts every second that has gone by until `nowMs`, through as many phases as that takes. */
	advance(nowMs: number, timeline: readonly Phase[]): void {
		for (const whole of timeline) {
			if (whole.startMs > nowMs) break;
			const phase = livedFrom(whole, this.joinedMs);
			if (!phase) continue;
			if (this.#phase && phase.startMs < this.#phase.startMs) continue;
			if (!this.#phase || !isSamePhase(this.#phase, phase)) this.#enter(phase, timeline);
			this.#phase = phase;
			this.#count(Math.min(nowMs, phase.endMs), timeline);
		}
	}

	#enter(phase: Phase, timeline: readonly Phase[]): void {
		// Two amendments in one millisecond: what had just begun never was.
		if (this.#phase?.kind === 'work' && this.#phase.startMs === phase.startMs) this.rounds.pop();
		this.#countedS = 0;
		this.#workedS = 0;
		this.#counter = undefined;
		this.#overNow = undefined;
		if (this.#phase && isRest(this.#phase)) this.restEndedMs = phase.startMs;
		this.#rest = undefined;
		const round = phase.round ?? 0;
		if (phase.kind === 'work') {
			const { thresholdBpm } = this.athlete;
			if (thresholdBpm !== undefined)
				this.#counter = new OverThresholdCounter(thresholdBpm, plannedRunMs(phase) / 1000);
			this.rounds.push({ round, attempt: phase.attempt ?? 1, over: this.#counter?.row });
		} else if (isRest(phase)) {
			this.#rest = new LiveRest(round, phase.startMs, this.#ring, this.#terms);
			this.restEndedMs = undefined;
			// From the bell on there is a rest, even where it is cut before its first second is over.
			this.#viewRest(0, pausedNearBell(timeline, phase.startMs, phase.startMs));
		}
	}

	#count(untilMs: number, timeline: readonly Phase[]): void {
		const phase = this.#phase!;
		const reachedS = lengthS({ startMs: phase.startMs, endMs: untilMs });
		if (reachedS <= this.#countedS) return;
		for (let s = this.#countedS; s < reachedS; s++) {
			const endMs = phase.startMs + (s + 1) * 1000;
			const bpm = entryOf(this.#latest, endMs, this.#ignoresContact);
			const isPaused = isPausedMiddle(phase, s);
			this.#costs.push(bpm, phase.kind === 'work' && !isPaused);
			if (!this.#counter) continue;
			if (isPaused) {
				this.#counter.breakSpell();
				this.#overNow = undefined;
				continue;
			}
			this.#overNow = this.#counter.push(bpm, this.#workedS++);
			const { overForS: overS, inBurst } = this.#overNow;
			// After a burst of late packets only the newest second may sound.
			const isDue = this.#isPulseDue({ nowMs: endMs, overS, inBurst });
			if (isDue && s === reachedS - 1) this.pulseDue?.();
		}
		this.#countedS = reachedS;
		const round = this.rounds.at(-1);
		if (round && this.#counter) round.over = this.#counter.row;
		if (this.#rest) this.#viewRest(reachedS, pausedNearBell(timeline, phase.startMs, untilMs));
	}

	#viewRest(atS: number, isPaused: boolean): void {
		const round = this.rounds.at(-1);
		this.restView = this.#rest!.viewAt(atS, isPaused, this.#ignoresContact);
		// A rest on the heels of another, where the round between never was, is not this round's.
		if (round && (!round.rest || round.rest.bellMs === this.restView.bellMs)) round.rest = this.restView;
	}
}
