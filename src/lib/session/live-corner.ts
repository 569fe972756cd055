import { pulseRule } from '$lib/bell/pulse-rule';
import { ContactTrial, isUsable } from '$lib/physiology/grid';
import type { TimeInBands } from '$lib/physiology/intensity';
import type { Phase } from '$lib/rounds/timeline';
import { type Reading } from '$lib/record/columns';
import { oldBeatMs } from '$lib/record/limits';
import { CornerTally } from './corner-tally';
import type { Counted, LiveRound } from './counted';
import { withoutContact } from '$lib/review/heard';
import type { LiveGuided } from './live-guided';
import type { RestView } from './live-rest';
import type { AthleteSnapshot } from '$lib/record/head';
import type { BeforeByActivity } from '$lib/review/known-before';

/** One athlete while the session runs: the present rate, and what the seconds so far come to. */
export class LiveCorner {
	#latest: Reading | undefined;
	/** The signal was lost after the newest packet: that one is none of the present, however young. */
	#isCut = false;
	/** Until the strap has shown what its word on contact is worth. */
	#trial: ContactTrial | undefined = new ContactTrial();
	#ignoresContact = false;
	#tally: CornerTally;
	/** What the same seconds come to if the trial says that the strap's word means nothing: the record will read them all so. */
	#ifIgnored: CornerTally | undefined;
	#isPulseDue = pulseRule();
	#pulseMs = -Infinity;

	readonly #counted: Counted;

	constructor(counted: Counted) {
		this.#counted = { ...counted };
		this.#tally = new CornerTally(this.#counted);
	}

	get athlete(): AthleteSnapshot {
		return this.#counted.athlete;
	}

	/** The rate to show at `nowMs`: undefined where the last packet is old, implausible or without contact. */
	bpmAt(nowMs: number): number | undefined {
		const latest = this.#isCut ? undefined : this.#latest;
		return latest && isUsable(latest) && nowMs - latest.ms <= oldBeatMs ? latest.bpm : undefined;
	}

	/** Elapsed ms of the newest packet since the signal is there, usable or not. */
	get latestMs(): number | undefined {
		return this.#isCut ? undefined : this.#latest?.ms;
	}

	/** False where the strap reports that it does not touch the skin, and such reports mean anything. */
	get hasContact(): boolean {
		return this.#latest?.contact !== 'no contact';
	}

	/** The strap has no contact sensor, or announces one and never reports contact. */
	get ignoresContact(): boolean {
		return this.#ignoresContact;
	}

	/** Seconds the rate has now stood over the threshold without a break, in work; else 0. */
	get overForS(): number {
		return this.#tally.overNow?.overForS ?? 0;
	}

	/** Elapsed ms at which the over-threshold pulse was due last; -Infinity before the first. */
	get pulseMs(): number {
		return this.#pulseMs;
	}

	/** Seconds of work so far by share of the threshold; absent without one. */
	get bands(): TimeInBands | undefined {
		return this.#tally.bands;
	}

	get rounds(): readonly LiveRound[] {
		return this.#tally.rounds;
	}

	/** What a guided measurement comes to so far; absent in a session of rounds. */
	get guided(): LiveGuided | undefined {
		return this.#tally.guided;
	}

	/** The rest that runs or ran last. */
	get restView(): RestView | undefined {
		return this.#tally.restView;
	}

	/** Elapsed ms at which the rest that ran last was over; absent before the first, and while one runs. */
	get restEndedMs(): number | undefined {
		return this.#tally.restEndedMs;
	}

	/** What the athlete's sessions before this one tell: from the next bell on it is heeded. */
	know(before: BeforeByActivity): void {
		this.#counted.before = before;
	}

	/** The same athlete before anything was counted. */
	anew(): LiveCorner {
		return new LiveCorner(this.#counted);
	}

	/** The signal was lost: nothing is shown as the present rate before the next packet. */
	cut(): void {
		this.#isCut = true;
	}

	/** Takes a packet; `advance` must have been called for its moment. */
	push(reading: Reading): void {
		this.#isCut = false;
		// Before the first such packet both readings of the strap's word come to the same.
		if (this.#trial && reading.contact === 'no contact') this.#ifIgnored ??= this.#tally.copy();
		this.#ifIgnored?.push(withoutContact(reading));
		this.#tally.push(this.#ignoresContact ? withoutContact(reading) : reading);
		const isSupported = this.#trial?.push(reading);
		if (isSupported !== undefined) this.#judge(isSupported);
		this.#latest = this.#ignoresContact ? withoutContact(reading) : reading;
	}

	/** From `atMs` on packets are those of another strap, whose word on contact is judged afresh. */
	changeStrap(atMs: number, timeline: readonly Phase[], isPutOn: boolean): void {
		this.#isCut = true;
		this.#trial = new ContactTrial();
		this.#ignoresContact = false;
		this.#ifIgnored = undefined;
		this.#tally.changeStrap(timeline, atMs, isPutOn);
	}

	/** Counts every second that has gone by until `nowMs`, through as many phases as that takes. */
	advance(nowMs: number, timeline: readonly Phase[]): void {
		this.#tally.advance(nowMs, timeline, ({ overForS: overS, inBurst }, endMs, isNewest) => {
			// After a burst of late packets only the newest second may sound. Nobody is called back from an aim over it.
			const isDue = this.#isPulseDue({ nowMs: endMs, overS, inBurst: inBurst || this.#tally.mayBeOver });
			if (isDue && isNewest) this.#pulseMs = endMs;
		});
		this.#ifIgnored?.advance(nowMs, timeline);
	}

	#judge(isSupported: boolean): void {
		this.#trial = undefined;
		this.#ignoresContact = !isSupported;
		if (this.#ignoresContact && this.#ifIgnored) this.#tally = this.#ifIgnored;
		this.#ifIgnored = undefined;
	}
}
