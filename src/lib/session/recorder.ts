import type { Strap } from '$lib/gatt/strap';
import type { Amendment } from '$lib/rounds/amendment';
import type { Clock } from '$lib/time/clock';
import type { Reading } from './columns';
import { JournalGone, type JournalEntry, type MeasuredRecord, type SessionStart, type Sink } from './journal';
import { LiveCorner } from './live-corner';
import { LiveGuided } from './live-guided';
import { RecordBuilder } from './record-builder';
import type { CornerEvent, SessionRecord } from './record';
import { SessionClock } from './session-clock';
import { SleepWatch, type Sign, type Slept } from './sleep-watch';
import { measured } from './summary';

// What arrives is on disk a second later at the latest: the fifth that is left is the disk's own.
const writeEveryMs = 800;
/** A store that refuses is asked ever less often: each try carries all that is unwritten. */
const longestRetryMs = 30_000;
/** A false start can be thrown away until this long after the first bell. */
const falseStartMs = 15_000;

export interface RecorderParts {
	start: SessionStart;
	/** The session's clock; runs faster than real time in a practice session at speed. */
	clock: Clock;
	/** The clock's time at elapsed zero. */
	originMs: number;
	/** Paces writing to the sink; real time even where the session's clock is not. */
	writeClock: Clock;
	sink: Sink;
	/** Tells sleep from a clock change; absent where a session is computed instead of lived. */
	wallNowMs?: () => number;
}

/**
 * Joins clock and straps: every packet, amendment and event becomes a journal entry, goes into the record
 * being built, and moves the live corners on. It changes nothing on any screen and waits for nothing: a sink
 * that fails is tried again with everything that is still unwritten.
 */
export class Recorder {
	readonly session: SessionClock;
	readonly corners: LiveCorner[];
	readonly start: SessionStart;
	/** What a guided measurement comes to so far; absent in a session of rounds. */
	readonly guided: LiveGuided | undefined;
	#straps = new Map<number, Strap>();
	#builder = new RecordBuilder();
	#unwritten: JournalEntry[] = [];
	#isWriting = false;
	#lastWriteMs = -Infinity;
	#failures = 0;
	#cancelWrite: (() => void) | undefined;
	#stops: (() => void)[] = [];
	#listeners = new Set<() => void>();
	#ended = false;
	readonly #sleepWatch = new SleepWatch();
	/** How long the computer slept; undefined once the session has been told to go on or to finish. */
	sleptMs: number | undefined;
	/** Called when the session has paused itself for a sleep. */
	onSlept: (() => void) | undefined;
	/** Why the last attempt to write failed; undefined while writing works. */
	writeProblem: unknown;

	constructor(
		private readonly parts: RecorderParts,
		history: readonly JournalEntry[] = []
	) {
		this.start = parts.start;
		this.session = new SessionClock(
			parts.clock,
			parts.start.plan,
			parts.originMs,
			history.flatMap((entry) => (entry.kind === 'amendment' ? entry.amendment : []))
		);
		this.guided = parts.start.plan.kind && new LiveGuided(parts.start.plan.kind);
		this.corners = parts.start.corners.map(
			({ athlete }) => new LiveCorner(athlete, parts.start.plan.activity)
		);
		if (history.length === 0) this.#note({ kind: 'start', start: parts.start });
		for (const entry of history) this.#replay(entry);
	}

	/** The strap that answers for a corner; absent while a resumed session waits for one. */
	strapOf(corner: number): Strap | undefined {
		return this.#straps.get(corner);
	}

	/** Called after every packet, amendment, event and write. The answer unsubscribes. */
	onChange(listener: () => void): () => void {
		this.#listeners.add(listener);
		return () => this.#listeners.delete(listener);
	}

	/** Moves the live corners on to the present; call at every wake, packet or not. Answers elapsed ms. */
	advance(): number {
		this.#lookForSleep('wake');
		const nowMs = this.session.elapsedMs();
		// What may turn out to be a pause is not counted yet.
		this.#advanceTo(this.#sleepWatch.doubtedSince?.elapsedMs ?? nowMs);
		return nowMs;
	}

	/** Answers false where the amendment is not possible at that moment, which is the present unless given. */
	amend(kind: Amendment['kind'], pastMs?: number): boolean {
		const atMs = pastMs ?? this.advance();
		// Never beyond the moment of the amendment: what it changes must not have been counted before.
		this.#advanceTo(atMs);
		const amendment = this.session.amend(kind, atMs);
		if (!amendment) return false;
		this.#note({ kind: 'amendment', amendment });
		if (kind !== 'pause') this.sleptMs = undefined;
		this.#advanceTo(this.session.elapsedMs());
		this.#changed();
		return true;
	}

	/** A mark set by hand at this moment, for one corner. */
	mark(corner: number): void {
		this.#event(corner, { kind: 'marker', ms: this.session.elapsedMs() });
	}

	/** Takes readings from before Start; their `ms` are negative. */
	takeEarlier(corner: number, readings: readonly Reading[]): void {
		for (const reading of readings) {
			this.corners[corner]?.push(reading);
			this.#note({ kind: 'reading', corner, ...reading });
		}
	}

	canDiscard(nowMs: number): boolean {
		const firstBellMs = this.session.timeline.find(({ kind }) => kind === 'work')?.startMs ?? 0;
		return nowMs < firstBellMs + falseStartMs;
	}

	/**
	 * Ends the session at `endedMs` and stores it: journal out, records in, one transaction. If the store
	 * refuses, the answer still holds the records, with the problem beside them, so that nothing is lost.
	 */
	async end(endedMs: number): Promise<{ records: MeasuredRecord[]; problem?: unknown }> {
		this.#stop();
		const records = this.#builder.build(endedMs).map(measured);
		try {
			await this.parts.sink.finish(records);
			return { records };
		} catch (problem) {
			return { records, problem };
		}
	}

	/** The session as far as it has come, one record a corner; it goes on meanwhile. */
	recordsSoFar(): SessionRecord[] {
		return this.#builder.build(this.session.elapsedMs());
	}

	async discard(): Promise<void> {
		this.#stop();
		await this.parts.sink.discard();
	}

	/** From now on this strap answers for the corner. */
	attach(corner: number, strap: Strap): void {
		this.#straps.set(corner, strap);
		let malformed = strap.malformedCount;
		let isLost = strap.state.kind === 'lost';
		this.#stops.push(
			strap.onReading(({ ms, measurement }) => {
				this.#lookForSleep('packet');
				const elapsedMs = Math.round(this.session.elapsedAt(ms));
				const live = this.corners[corner];
				live?.advance(elapsedMs, this.session.timeline);
				this.guided?.advance(elapsedMs, this.session.timeline);
				const reading: Reading = { ms: elapsedMs, ...measurement };
				live?.push(reading);
				this.guided?.push(reading);
				this.#note({ kind: 'reading', corner, ...reading });
				this.#changed();
			}),
			strap.onChange(() => {
				const ms = Math.round(this.session.elapsedMs());
				for (; malformed < strap.malformedCount; malformed++)
					this.#event(corner, { kind: 'malformed packet', ms });
				const { state } = strap;
				// Silence is noticed late: the signal was lost when the last packet came.
				if (state.kind === 'lost' && !isLost) {
					this.corners[corner]?.cut();
					const lostMs = Math.round(this.session.elapsedAt(state.sinceMs));
					this.#event(corner, { kind: 'signal lost', ms: lostMs });
				} else if (state.kind !== 'lost' && isLost) this.#event(corner, { kind: 'signal back', ms });
				isLost = state.kind === 'lost';
				this.#changed();
			})
		);
	}

	#advanceTo(ms: number): void {
		for (const corner of this.corners) corner.advance(ms, this.session.timeline);
		this.guided?.advance(ms, this.session.timeline);
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
		const ms = Math.round(before.elapsedMs);
		this.corners.forEach((_, corner) => this.#event(corner, { kind: 'slept', ms }));
		// Something may have been amended since, while it was not yet known for a sleep.
		if (!this.amend('pause', before.elapsedMs)) this.amend('pause');
		this.onSlept?.();
		this.#changed();
	}

	#replay(entry: JournalEntry): void {
		this.#builder.push(entry);
		if (entry.kind !== 'reading') return;
		const live = this.corners[entry.corner];
		live?.advance(entry.ms, this.session.timeline);
		live?.push(entry);
		this.guided?.advance(entry.ms, this.session.timeline);
		this.guided?.push(entry);
	}

	#event(corner: number, event: CornerEvent): void {
		this.#note({ kind: 'event', corner, event });
	}

	#note(entry: JournalEntry): void {
		this.#builder.push(entry);
		this.#unwritten.push(entry);
		this.#writeSoon();
	}

	#writeSoon(): void {
		const dueMs = this.#lastWriteMs + Math.min(longestRetryMs, writeEveryMs * 2 ** this.#failures);
		// A packet that finds the second gone writes at once: timers of a hidden page may come a minute late.
		if (this.parts.writeClock.nowMs() >= dueMs) void this.#write();
		else if (!this.#cancelWrite)
			this.#cancelWrite = this.parts.writeClock.wakeAt(dueMs, () => void this.#write());
	}

	async #write(): Promise<void> {
		this.#cancelWrite?.();
		this.#cancelWrite = undefined;
		if (this.#isWriting || this.#ended || this.#unwritten.length === 0) return;
		this.#isWriting = true;
		this.#lastWriteMs = this.parts.writeClock.nowMs();
		const entries = this.#unwritten;
		this.#unwritten = [];
		try {
			await this.parts.sink.append(entries);
			this.#failures = 0;
			this.writeProblem = undefined;
		} catch (problem) {
			// Once the browser has cleared the journal, memory is the only place that still has it whole.
			if (problem instanceof JournalGone) this.#unwritten = this.#builder.entries();
			else {
				this.#unwritten = [...entries, ...this.#unwritten];
				this.#failures++;
				this.writeProblem = problem;
			}
		}
		this.#isWriting = false;
		if (this.#unwritten.length > 0) this.#writeSoon();
		this.#changed();
	}

	#stop(): void {
		this.#ended = true;
		this.#cancelWrite?.();
		for (const stop of this.#stops) stop();
		this.#stops = [];
	}

	#changed(): void {
		for (const listener of this.#listeners) listener();
	}
}
