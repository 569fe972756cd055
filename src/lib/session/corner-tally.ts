import { entryOf, secondsOf } from '$lib/physiology/grid';
import { BandCounter, type TimeInBands } from '$lib/physiology/intensity';
import {
	OverThresholdCounter,
	plannedWorkOf,
	type OverNow,
	type OverThreshold
} from '$lib/physiology/over-threshold';
import type { RestMeasure } from '$lib/physiology/recovery';
import { beforeBellS, RestTaken } from '$lib/physiology/rest-taken';
import type { PlanKind } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { Newest } from '$lib/review/heard';
import { LiveGuided } from './live-guided';
import { LiveRest, type RestView } from './live-rest';
import { RecentReadings } from './recent-readings';
import { goneS, isRest, livedFrom, pausedNearBell, workRoundOf } from '$lib/review/phase-times';
import type { AthleteSnapshot } from '$lib/record/head';
import { hardnessOf } from '$lib/review/hard-rounds';
import type { KnownBefore } from '$lib/review/known-before';

/** Getting ready to box a round again has a bell behind it: where the session is finished there, it was a rest. */
const mayBeRest = (phase: Phase) =>
	isRest(phase) || (phase.kind === 'get ready' && phase.attempt !== undefined);

/** A phase keeps its start, whatever is amended, and a rest may turn into the closing minute or back. */
const isSamePhase = (a: Phase, b: Phase) =>
	a.startMs === b.startMs && (a.kind === b.kind || (mayBeRest(a) && mayBeRest(b)));

/** What became of a round and its rest, for the strip of all rounds so far. */
export interface LiveRound {
	round: number;
	attempt: number;
	/** Absent without a threshold. */
	over?: OverThreshold;
	rest?: RestView;
}

/** Whose seconds are counted, and of what. */
export interface Counted {
	athlete: AthleteSnapshot;
	/** Elapsed ms at which the athlete joined in mid-session. */
	joinedMs?: number;
	/** Of a guided measurement. */
	kind?: PlanKind;
	/** What the athlete's sessions before this one tell, once that has been read; of no use to anything that is kept. */
	before?: KnownBefore;
}

/**
 * Counts what the seconds of one athlete come to, by the functions that measure the record: over the threshold, the
 * rest being taken, bands. Everything is carried forward second by second; nothing here grows with the session but
 * the list of rounds.
 */
export class CornerTally {
	#newest = new Newest();
	/** The same of the strap that is worn now. */
	#ofStrap = new Newest();
	#recent = new RecentReadings<Reading>();
	#phase: Phase | undefined;
	/** Whole seconds of the present phase that have gone by. */
	#countedS = 0;
	#counter: OverThresholdCounter | undefined;
	#rest: LiveRest | undefined;
	/** Absent without a threshold. */
	#bands: BandCounter | undefined;
	#guided: LiveGuided | undefined;
	#rounds: LiveRound[] = [];
	/** Elapsed ms from which on the strap has been the one that is worn now. */
	#ofStrapFromMs = -Infinity;
	/** What the second counted last came to; absent outside of work and in a pause. */
	overNow: OverNow | undefined;
	/** The rest that runs or ran last. */
	restView: RestView | undefined;
	/** Elapsed ms at which the rest that ran last was over; absent before the first, and while one runs. */
	restEndedMs: number | undefined;

	constructor(private readonly counted: Counted) {
		const { thresholdBpm } = counted.athlete;
		this.#bands = thresholdBpm === undefined ? undefined : new BandCounter(thresholdBpm);
		this.#guided = counted.kind && new LiveGuided(counted.kind);
	}

	get rounds(): readonly LiveRound[] {
		return this.#rounds;
	}

	/** Seconds of work so far by share of the threshold; absent without one. */
	get bands(): TimeInBands | undefined {
		return this.#bands?.bands(this.#counter?.row);
	}

	get guided(): LiveGuided | undefined {
		return this.#guided;
	}

	/** The same count so far, to be carried on separately. */
	copy(): CornerTally {
		const copy = new CornerTally(this.counted);
		copy.#newest = this.#newest.copy();
		copy.#ofStrap = this.#ofStrap.copy();
		copy.#recent = this.#recent.copy();
		copy.#phase = this.#phase;
		copy.#countedS = this.#countedS;
		copy.#counter = this.#counter?.copy();
		copy.#rest = this.#rest?.copy();
		copy.#bands = this.#bands?.copy();
		copy.#guided = this.#guided?.copy();
		copy.#rounds = this.#rounds.map((round) => ({ ...round }));
		copy.#ofStrapFromMs = this.#ofStrapFromMs;
		copy.overNow = this.overNow;
		copy.restView = this.restView;
		copy.restEndedMs = this.restEndedMs;
		return copy;
	}

	/** Takes a packet; `advance` must have been called for its moment. */
	push(reading: Reading): void {
		this.#newest.push(reading);
		this.#ofStrap.push(reading);
		this.#recent.push(reading);
		this.#guided?.push(reading);
	}

	/** From now on packets are those of another strap; what was counted of the first stays counted. */
	changeStrap(timeline: readonly Phase[], atMs: number): void {
		this.#ofStrap = new Newest();
		this.#ofStrapFromMs = atMs;
		this.#recent = new RecentReadings();
		this.#rest?.forget();
		if (this.#rest && this.#phase && isRest(this.#phase)) this.#viewRest(this.#lived(timeline), atMs);
	}

	/**
	 * Counts every second that has gone by until `nowMs`, through as many phases as that takes.
	 *
	 * @param onWork told of each second of work, by its end and by whether it is the newest
	 */
	advance(
		nowMs: number,
		timeline: readonly Phase[],
		onWork?: (over: OverNow, endMs: number, isNewest: boolean) => void
	): void {
		const lived = this.#lived(timeline);
		for (const phase of lived) {
			if (phase.startMs > nowMs) break;
			if (this.#phase && phase.startMs < this.#phase.startMs) continue;
			if (!this.#phase || !isSamePhase(this.#phase, phase)) this.#enter(phase);
			this.#phase = phase;
			this.#count(Math.min(nowMs, phase.endMs), lived, onWork);
		}
	}

	#lived(timeline: readonly Phase[]): readonly Phase[] {
		const { joinedMs } = this.counted;
		return joinedMs === undefined ? timeline : timeline.flatMap((phase) => livedFrom(phase, joinedMs) ?? []);
	}

	#enter(phase: Phase): void {
		const before = this.#phase;
		// Two amendments in one millisecond: what had just begun never was.
		const neverWas = before?.startMs === phase.startMs;
		if (neverWas && before.kind === 'work') this.#rounds.pop();
		const last = this.#rounds.at(-1);
		if (neverWas && last?.rest?.bellMs === before.startMs) delete last.rest;
		if (neverWas && isRest(before)) this.restView = undefined;
		else if (before && isRest(before)) this.restEndedMs = phase.startMs;
		this.#countedS = 0;
		if (this.#counter) this.#bands?.close(this.#counter.row);
		this.#counter = undefined;
		this.#rest = undefined;
		this.overNow = undefined;
		if (phase.kind === 'work') this.#enterRound(phase);
		else if (mayBeRest(phase)) this.#enterRest(phase);
	}

	#enterRound(phase: Phase): void {
		const { thresholdBpm } = this.counted.athlete;
		if (thresholdBpm !== undefined)
			this.#counter = new OverThresholdCounter(thresholdBpm, plannedWorkOf(workRoundOf(phase)));
		this.#rounds.push({ round: phase.round ?? 0, attempt: phase.attempt ?? 1, over: this.#counter?.row });
	}

	#enterRest({ round = 0, startMs }: Phase): void {
		const { athlete, before } = this.counted;
		const { slowingMedicine, ageYears } = athlete;
		const terms = { ...hardnessOf(athlete), slowingMedicine, ageYears, usual: before?.usual };
		const prior = { earlier: this.#earlierRests(), otherSessions: before?.rests };
		const taken = new RestTaken();
		for (const bpm of secondsOf(this.#recent.all, startMs - beforeBellS * 1000, beforeBellS)) taken.push(bpm);
		this.#rest = new LiveRest(round, startMs, terms, taken, prior);
	}

	/** What the rests of this heart and strap came to: another strap may have been another's. */
	#earlierRests(): RestMeasure[] {
		return this.#rounds.flatMap(({ rest }) =>
			rest && rest.bellMs >= this.#ofStrapFromMs ? rest.measure : []
		);
	}

	#count(
		untilMs: number,
		lived: readonly Phase[],
		onWork?: (over: OverNow, endMs: number, isNewest: boolean) => void
	): void {
		const phase = this.#phase!;
		const reachedS = goneS(phase, untilMs);
		const isNews = reachedS > this.#countedS;
		for (; this.#countedS < reachedS; this.#countedS++) {
			const s = this.#countedS;
			const endMs = phase.startMs + (s + 1) * 1000;
			// A last second that the grace lets reach beyond the phase ends with it.
			const beforeMs = Math.min(endMs, phase.endMs);
			this.#rest?.push(entryOf(this.#ofStrap.before(beforeMs), endMs));
			if (phase.kind !== 'work') continue;
			const bpm = entryOf(this.#newest.before(beforeMs), endMs);
			this.#guided?.take(s, bpm);
			this.overNow = this.#counter?.take(bpm, s, workRoundOf(phase));
			if (!this.overNow) continue;
			this.#bands?.push(bpm);
			onWork?.(this.overNow, endMs, s === reachedS - 1);
		}
		const round = this.#rounds.at(-1);
		if (round && this.#counter) round.over = this.#counter.row;
		if (!isRest(phase)) return;
		// From the bell on there is a rest, even where it is cut before its first second is over.
		const isShown = this.restView?.bellMs === phase.startMs;
		if (isNews || !isShown || untilMs >= phase.endMs) this.#viewRest(lived, untilMs);
	}

	#viewRest(lived: readonly Phase[], untilMs: number): void {
		const rest = this.#rest!;
		const round = this.#rounds.at(-1);
		this.restEndedMs = undefined;
		this.restView = rest.view(pausedNearBell(lived, rest.bellMs, untilMs));
		// A rest on the heels of another, where the round between never was, is not this round's.
		if (round && (!round.rest || round.rest.bellMs === rest.bellMs)) round.rest = this.restView;
	}
}
