import type { CornerSoFar } from '$lib/record/corner-so-far';
import type { StrapReading } from '$lib/gatt/strap';
import type { Amendment } from '$lib/rounds/amendment';
import type { Block } from '$lib/rounds/plan';
import type { Clock } from '$lib/time/clock';
import type { Reading } from '$lib/record/columns';
import type { Entrant, JournalEntry } from '$lib/record/journal';
import type { CornerEvent } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';
import type { LiveCorner } from './live-corner';
import type { LiveGuided } from './live-guided';
import { dueHandOvers, type DueHandOver } from './due-hand-overs';
import { SessionClock } from './session-clock';
import { SessionLog, type LogParts } from './session-log';
import { SleepWatch, type Sign, type Slept } from './sleep-watch';
import type { Ended } from './store-at-end';
import { StrapLinks } from './strap-links';
import { WornStraps } from './worn-straps';

export interface RecorderParts extends LogParts {
	/** The session's clock; runs faster than real time in a practice session at speed. */
	clock: Clock;
	/** The clock's time at elapsed zero. */
	originMs: number;
	/** Tells sleep from a clock change; absent where a session is computed instead of lived. */
	wallNowMs?: () => number;
}

/**
 * Joins clock and straps: every packet, amendment and event becomes a journal entry, goes into the record
 * being built, and moves the live corners on. It changes nothing on any screen and waits for nothing: a sink
 * that fails is tried again with everything that is still unwritten.
 *
 * Everything comes in from above: verbs are called, a wake calls `advance`, and whoever calls looks afterwards. What
 * comes from below by itself (a packet, a strap's state, the store's answer) is taken in whole, and told once after it.
 */
export class Recorder {
	readonly session: SessionClock;
	readonly #log: SessionLog;
	readonly #links: StrapLinks;
	/** Who wears which strap. */
	readonly straps: WornStraps;
	readonly #sleepWatch = new SleepWatch();
	/** How long the computer slept; undefined once the session has been told to go on or to finish. */
	sleptMs: number | undefined;
	/** Elapsed ms to which everything has been brought last: the moment that is shown. */
	nowMs = 0;
	#isOver = false;
	#onChange: (() => void) | undefined;

	constructor(
		private readonly parts: RecorderParts,
		history: readonly JournalEntry[] = []
	) {
		const { start, clock, originMs } = parts;
		const amendments = history.flatMap((entry) => (entry.kind === 'amendment' ? entry.amendment : []));
		this.session = new SessionClock(clock, start.plan, originMs, amendments);
		this.#log = new SessionLog(parts, history, this.session, () => this.#told('store'));
		this.#links = new StrapLinks(this.session, history, {
			onPacket: (corner, packet, fromMs) => this.#takePacket(corner, packet, fromMs),
			onEvent: (corner, event) => {
				if (event.kind === 'signal lost') this.corners[corner]?.cut();
				this.#noteEvent(corner, event);
			},
			onHeard: (by) => this.#told(by)
		});
		this.straps = new WornStraps(this.#log, this.#links, this);
	}

	/** Everybody who boxed, those who left included: see `present`. */
	get corners(): readonly LiveCorner[] {
		return this.#log.live.all;
	}

	/** The corners that have not left, in order. */
	get present(): readonly number[] {
		return this.#log.live.present;
	}

	/** Which straps are to change hands before the next round; see `dueHandOvers`. */
	get due(): DueHandOver[] {
		return dueHandOvers(this.parts.start.turns, this.#log.corners, this.session.timeline, this.nowMs);
	}

	/** What is known of a corner. */
	cornerOf(corner: number): CornerSoFar | undefined {
		return this.#log.corners.get(corner);
	}

	/** What a guided measurement comes to so far; absent in a session of rounds. */
	get guided(): LiveGuided | undefined {
		return this.#log.live.guided;
	}

	/** Elapsed ms at which the over-threshold pulse of any corner was due last; -Infinity before the first. */
	get pulseMs(): number {
		return this.#log.live.pulseMs;
	}

	/** Why the last attempt to write failed; undefined while writing works. */
	get writeProblem(): unknown {
		return this.#log.problem;
	}

	/** Called once after whatever comes by itself: a packet, a strap's change of state, a store that fails or works again. */
	onChange(listener: () => void): void {
		this.#onChange = listener;
	}

	/** A wake: moves everything on to the present, packet or not. Answers elapsed ms. */
	advance(): number {
		this.#lookForSleep('wake');
		return this.#reach();
	}

	/** Answers false where the amendment is not possible at that moment, which is the present unless given. */
	amend(kind: Amendment['kind'], atMs = this.advance(), block?: Block): boolean {
		// Never beyond the moment of the amendment: what it changes must not have been counted before.
		this.#log.live.advanceTo(atMs);
		const amendment = this.session.append(kind, atMs, block);
		if (!amendment) return false;
		this.#log.note({ kind: 'amendment', amendment });
		if (kind !== 'pause') this.sleptMs = undefined;
		this.nowMs = this.session.elapsedMs();
		this.#log.live.advanceTo(this.nowMs);
		return true;
	}

	/** A mark set by hand at this moment, for one corner. */
	mark(corner: number): void {
		this.#noteEvent(corner, { kind: 'marker', ms: this.session.elapsedMs() });
	}

	/** Takes readings from before the recording; the `ms` of those from before Start, which most are, is negative. */
	takeEarlier(corner: number, readings: readonly Reading[]): void {
		for (const reading of readings) this.#log.note({ kind: 'reading', corner, ...reading });
	}

	/** Ends the session at `endedMs` and stores it: journal out, records in, one transaction. See `StoreAtEnd`. */
	async end(endedMs: number): Promise<Ended> {
		this.#isOver = true;
		this.#links.cutAll();
		// A sleep that is still in doubt is none in the record either.
		this.#log.live.advanceTo(endedMs);
		return this.#log.keep(endedMs);
	}

	/** The session as far as it has come, one record a corner; it goes on meanwhile. */
	recordsSoFar(): SessionRecord[] {
		return this.#log.build(this.session.elapsedMs());
	}

	async discard(): Promise<void> {
		this.#isOver = true;
		this.#links.cutAll();
		await this.#log.discard();
	}

	/** An athlete joins in mid-session; answers their corner. Then `straps.attach` their strap. */
	join(entrant: Entrant): number {
		const corner = this.corners.length;
		const ms = Math.max(0, this.advance());
		this.#log.note({ kind: 'join', corner, ms, entrant });
		return corner;
	}

	/**
	 * An athlete leaves in mid-session; their record ends here. Answers false for the last one with a strap, who hands it
	 * over or finishes instead.
	 */
	leave(corner: number): boolean {
		if (!this.present.includes(corner) || this.straps.wearing.every((one) => one === corner)) return false;
		const ms = this.advance();
		this.straps.cut(corner);
		this.#log.note({ kind: 'leave', corner, ms });
		return true;
	}

	/** Has every strap send what is due, and counts by then. */
	#reach(): number {
		this.#links.catchUp();
		this.nowMs = this.session.elapsedMs();
		// Taking it in may itself have carried time over the last bell: what was due by then is to come first.
		const { endMs } = this.session;
		if (this.nowMs >= endMs) this.#links.catchUp();
		if (this.nowMs >= endMs && this.#links.oweBy(endMs)) this.nowMs = endMs - 1;
		// What may turn out to be a pause is not counted yet.
		this.#log.live.advanceTo(this.#sleepWatch.doubtedSince?.elapsedMs ?? this.nowMs);
		return this.nowMs;
	}

	#takePacket(corner: number, { ms, measurement }: StrapReading, fromMs: number): void {
		// What it says of the clock counts before what it says of the heart.
		this.#lookForSleep('packet');
		const elapsedMs = this.session.elapsedAt(ms);
		// Not what a practice strap still owes from before, nor what comes before anybody was woken for the last bell.
		if (elapsedMs > fromMs && elapsedMs <= this.session.endMs)
			this.#log.note({ kind: 'reading', corner, ms: elapsedMs, ...measurement });
	}

	#lookForSleep(by: Sign['by']): void {
		const { writeClock, wallNowMs } = this.parts;
		if (!wallNowMs) return;
		const leap = this.#sleepWatch.see({
			by,
			monotonicMs: writeClock.nowMs(),
			wallMs: wallNowMs(),
			elapsedMs: this.session.elapsedMs()
		});
		if (leap?.kind === 'slept') this.#fellAsleep(leap);
	}

	/** Nobody boxed while the computer slept: the session has stood paused since the moment before. */
	#fellAsleep({ before, lengthMs, missingMs }: Slept): void {
		this.session.addMissing(missingMs);
		this.sleptMs = lengthMs;
		for (const corner of this.present) this.#noteEvent(corner, { kind: 'slept', ms: before.elapsedMs });
		// Something may have been amended since, while it was not yet known for a sleep.
		if (!this.amend('pause', before.elapsedMs)) this.amend('pause', this.#reach());
	}

	#noteEvent(corner: number, event: CornerEvent): void {
		this.#log.note({ kind: 'event', corner, event });
	}

	/** Once for all that has been heard by itself at this moment. */
	#told(by: 'packet' | 'state' | 'store'): void {
		if (this.#isOver) return;
		// A packet has been a sign of life already.
		if (by === 'packet') this.#reach();
		else this.advance();
		this.#onChange?.();
	}
}
