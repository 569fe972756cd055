import { AimCounter } from '$lib/physiology/aim';
import { entryOf, secondsOf } from '$lib/physiology/grid';
import { BandCounter, type TimeInBands } from '$lib/physiology/intensity';
import { OverThresholdCounter, plannedWorkOf, type OverNow } from '$lib/physiology/over-threshold';
import type { RestMeasure } from '$lib/physiology/recovery';
import { beforeBellS, RestTaken } from '$lib/physiology/rest-taken';
import { Settling } from '$lib/physiology/settling';
import { blockOf } from '$lib/rounds/blocks';
import type { Block } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { Newest } from '$lib/review/heard';
import { isSamePhase, mayBeRest, type Counted, type LiveRound } from './counted';
import { LiveGuided } from './live-guided';
import { LiveRest, type RestView } from './live-rest';
import { LivedPhases } from './lived-phases';
import { RecentReadings } from './recent-readings';
import { goneS, isRest, pausedNearBell, workRoundOf } from '$lib/review/phase-times';
import { mayBeOver, rangeOf } from '$lib/review/aim-of';
import { hardnessOf } from '$lib/review/hard-rounds';

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
	/** Of a strap that was put on in mid-session. */
	#settling: Settling | undefined;
	readonly #lived: LivedPhases;
	#phase: Phase | undefined;
	/** What is the present phase for the session never was one of this athlete's. */
	#isTakenBack = false;
	/** Whole seconds of the present phase that have gone by. */
	#countedS = 0;
	#counter: OverThresholdCounter | undefined;
	#aim: AimCounter | undefined;
	#rest: LiveRest | undefined;
	/** Absent without a threshold. */
	#bands: BandCounter | undefined;
	#guided: LiveGuided | undefined;
	#rounds: LiveRound[] = [];
	/** Elapsed ms from which on the strap has been the one that is worn now. */
	#ofStrapFromMs = -Infinity;
	/** What the second counted last came to; absent outside of work and in a pause. */
	overNow: OverNow | undefined;
	/** The round that runs aims at the threshold or over it: nothing calls anybody back. */
	mayBeOver = false;
	/** The rest that runs or ran last. */
	restView: RestView | undefined;
	/** Elapsed ms at which the rest that ran last was over; absent before the first, and while one runs. */
	restEndedMs: number | undefined;

	constructor(private readonly counted: Counted) {
		this.#lived = new LivedPhases(counted.worn);
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
		copy.#settling = this.#settling?.copy();
		copy.#phase = this.#phase;
		copy.#isTakenBack = this.#isTakenBack;
		copy.#countedS = this.#countedS;
		copy.#counter = this.#counter?.copy();
		copy.#aim = this.#aim?.copy();
		copy.mayBeOver = this.mayBeOver;
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
		if (this.#settling && !this.#settling.push(reading)) return;
		this.#newest.push(reading);
		this.#ofStrap.push(reading);
		this.#recent.push(reading);
		this.#guided?.push(reading);
	}

	/**
	 * From now on packets are those of another strap, or of one that another wore; what was counted of the first stays
	 * counted.
	 */
	changeStrap(timeline: readonly Phase[], atMs: number, isPutOn: boolean): void {
		this.#settling = isPutOn ? new Settling() : undefined;
		this.#ofStrap = new Newest();
		this.#ofStrapFromMs = atMs;
		this.#recent = new RecentReadings();
		this.#rest?.forget();
		if (this.#rest && this.#phase && isRest(this.#phase)) this.#viewRest(this.#lived.of(timeline), atMs);
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
		const lived = this.#lived.of(timeline);
		const livedToMs = lived.at(-1)?.endMs ?? -Infinity;
		if (this.#phase && this.#phase.startMs >= livedToMs) this.#takeBack(this.#phase);
		for (const phase of lived) {
			if (phase.startMs > nowMs) break;
			if (this.#phase && phase.startMs < this.#phase.startMs) continue;
			if (!this.#phase || !isSamePhase(this.#phase, phase)) this.#enter(phase);
			this.#phase = phase;
			this.#count(Math.min(nowMs, phase.endMs), lived, onWork);
		}
	}

	#enter(phase: Phase): void {
		const before = this.#phase;
		if (before?.startMs === phase.startMs) this.#takeBack(before);
		else if (before && isRest(before)) this.restEndedMs = phase.startMs;
		this.#isTakenBack = false;
		this.#countedS = 0;
		if (this.#counter) this.#bands?.close(this.#counter.row);
		this.#counter = undefined;
		this.#aim = undefined;
		this.mayBeOver = false;
		this.#rest = undefined;
		this.overNow = undefined;
		if (phase.kind === 'work') this.#enterRound(phase);
		else if (mayBeRest(phase)) this.#enterRest(phase);
	}

	/** Two amendments in one millisecond, or the strap given away in it: what had just begun never was. */
	#takeBack(begun: Phase): void {
		if (this.#isTakenBack) return;
		this.#isTakenBack = true;
		if (begun.kind === 'work') this.#rounds.pop();
		const last = this.#rounds.at(-1);
		if (last?.rest?.bellMs === begun.startMs) delete last.rest;
		if (isRest(begun)) this.restView = undefined;
		this.overNow = undefined;
		this.mayBeOver = false;
	}

	/** The block of a phase; absent where nobody said what is planned. */
	#blockOf(phase: Pick<Phase, 'block'>): Block | undefined {
		const blocks = this.counted.blocks?.();
		return blocks && blockOf(blocks, phase);
	}

	#enterRound(phase: Phase): void {
		const { athlete } = this.counted;
		const { thresholdBpm } = athlete;
		const aim = this.#blockOf(phase)?.aim;
		const range = rangeOf(aim, athlete);
		this.#aim = range && new AimCounter(range);
		this.mayBeOver = mayBeOver(aim, athlete);
		if (thresholdBpm !== undefined)
			this.#counter = new OverThresholdCounter(thresholdBpm, plannedWorkOf(workRoundOf(phase)));
		const { round = 0, attempt = 1, block } = phase;
		this.#rounds.push({
			round,
			attempt,
			...(block !== undefined && { block }),
			...(this.#aim && { aim: this.#aim.time }),
			over: this.#counter?.row
		});
	}

	#enterRest({ round = 0, startMs, block }: Phase): void {
		const activity = this.#blockOf({ block })?.activity;
		const { athlete } = this.counted;
		const before = activity && this.counted.before?.[activity];
		const { slowingMedicine, ageYears } = athlete;
		const terms = { ...hardnessOf(athlete), slowingMedicine, ageYears, usual: before?.usual };
		const prior = { earlier: this.#earlierRests(activity), otherSessions: before?.rests };
		const taken = new RestTaken();
		for (const bpm of secondsOf(this.#recent.all, startMs - beforeBellS * 1000, beforeBellS)) taken.push(bpm);
		this.#rest = new LiveRest(round, startMs, terms, taken, prior);
	}

	/** What the rests of this heart and strap after this work came to: another strap may have been another's. */
	#earlierRests(activity: Block['activity'] | undefined): RestMeasure[] {
		return this.#rounds.flatMap(({ rest, block }) =>
			rest && rest.bellMs >= this.#ofStrapFromMs && this.#blockOf({ block })?.activity === activity
				? rest.measure
				: []
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
			const round = workRoundOf(phase);
			this.#aim?.take(bpm, s, round);
			this.overNow = this.#counter?.take(bpm, s, round);
			if (!this.overNow) continue;
			this.#bands?.push(bpm);
			onWork?.(this.overNow, endMs, s === reachedS - 1);
		}
		const round = this.#rounds.at(-1);
		if (round && this.#counter) round.over = this.#counter.row;
		if (round && this.#aim) round.aim = this.#aim.time;
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
