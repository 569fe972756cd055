import { within } from '$lib/gatt/limited-wait';
import type { HeartRateMeasurement } from '$lib/gatt/heart-rate-measurement';
import type { Strap } from '$lib/gatt/strap';
import type { Amendment } from '$lib/rounds/amendment';
import type { Clock } from '$lib/time/clock';
import type { Reading } from '$lib/record/columns';
import { answerWithinMs, StoreSilent } from '$lib/record/journal';
import type { Entrant, JournalEntry, MeasuredRecord, SessionStart, Sink } from '$lib/record/journal';
import { JournalWriter } from './journal-writer';
import type { LiveCorner } from './live-corner';
import { LiveCorners } from './live-corners';
import type { LiveGuided } from './live-guided';
import { RecordBuilder, type CornerSoFar } from '$lib/record/record-builder';
import type { CornerEvent, SessionRecord, StrapChange } from '$lib/record/record';
import { SessionClock } from './session-clock';
import { SleepWatch, type Sign, type Slept } from './sleep-watch';
import { StrapLinks } from './strap-links';
import { measured } from '$lib/review/summary';

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

/** What became of a session; see `Recorder.end`. */
export interface Ended {
	records: MeasuredRecord[];
	problem?: unknown;
	later?: Promise<unknown>;
}

/**
 * Joins clock and straps: every packet, amendment and event becomes a journal entry, goes into the record
 * being built, and moves the live corners on. It changes nothing on any screen and waits for nothing: a sink
 * that fails is tried again with everything that is still unwritten.
 */
export class Recorder {
	readonly session: SessionClock;
	readonly start: SessionStart;
	readonly #live: LiveCorners;
	readonly #links: StrapLinks;
	#builder = new RecordBuilder();
	readonly #writer: JournalWriter;
	#listeners = new Set<() => void>();
	readonly #sleepWatch = new SleepWatch();
	/** What the store was asked at the end and has not answered. */
	#finishing: Promise<unknown> | undefined;
	/** How long the computer slept; undefined once the session has been told to go on or to finish. */
	sleptMs: number | undefined;
	/** Called when the session has paused itself for a sleep. */
	onSlept: (() => void) | undefined;

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
		this.#live = new LiveCorners(parts.start.plan, this.#builder.corners, () => this.session.timeline);
		this.#writer = new JournalWriter({
			sink: parts.sink,
			clock: parts.writeClock,
			everything: () => this.#builder.entries(),
			onProblem: () => this.#changed()
		});
		this.#links = new StrapLinks(this.session, lostIn(history), {
			beforeReading: () => this.#lookForSleep('packet'),
			onReading: (corner, elapsedMs, measurement) => this.#take(corner, elapsedMs, measurement),
			onEvent: (corner, event) => {
				if (event.kind === 'signal lost') this.corners[corner]?.cut();
				this.#event(corner, event);
			},
			onChange: () => this.#changed()
		});
		const start: JournalEntry = { kind: 'start', start: parts.start };
		if (history.length === 0) this.#note(start);
		else this.#builder.push(start);
		parts.start.corners.forEach((_, corner) => this.#live.seat(corner));
		for (const entry of history) {
			this.#builder.push(entry);
			this.#live.replay(entry);
		}
	}

	/** Everybody who boxed, those who left included: see `present`. */
	get corners(): readonly LiveCorner[] {
		return this.#live.all;
	}

	/** The corners that have not left, in order. */
	get present(): readonly number[] {
		return this.#live.present;
	}

	/** What is known of a corner. */
	cornerOf(corner: number): CornerSoFar | undefined {
		return this.#builder.corners.get(corner);
	}

	/** What a guided measurement comes to so far; absent in a session of rounds. */
	get guided(): LiveGuided | undefined {
		return this.#live.guided;
	}

	/** Called when the over-threshold pulse of any corner is due. */
	set pulseDue(ring: () => void) {
		this.#live.pulseDue = ring;
	}

	/** Why the last attempt to write failed; undefined while writing works. */
	get writeProblem(): unknown {
		return this.#writer.problem;
	}

	/** The strap that answers for a corner; absent while a resumed session waits for one. */
	strapOf(corner: number): Strap | undefined {
		return this.#links.strapOf(corner);
	}

	/** Called after every packet, amendment and event, and where writing fails or works again. The answer unsubscribes. */
	onChange(listener: () => void): () => void {
		this.#listeners.add(listener);
		return () => this.#listeners.delete(listener);
	}

	/** Moves the live corners on to the present; call at every wake, packet or not. Answers elapsed ms. */
	advance(): number {
		this.#lookForSleep('wake');
		this.#links.catchUp();
		const nowMs = this.session.elapsedMs();
		// What may turn out to be a pause is not counted yet.
		this.#live.advanceTo(this.#sleepWatch.doubtedSince?.elapsedMs ?? nowMs);
		return nowMs;
	}

	/** Answers false where the amendment is not possible at that moment, which is the present unless given. */
	amend(kind: Amendment['kind'], pastMs?: number): boolean {
		const atMs = pastMs ?? this.advance();
		// Never beyond the moment of the amendment: what it changes must not have been counted before.
		this.#live.advanceTo(atMs);
		const amendment = this.session.append(kind, atMs);
		if (!amendment) return false;
		this.#note({ kind: 'amendment', amendment });
		if (kind !== 'pause') this.sleptMs = undefined;
		this.#live.advanceTo(this.session.elapsedMs());
		this.#changed();
		return true;
	}

	/** A mark set by hand at this moment, for one corner. */
	mark(corner: number): void {
		this.#event(corner, { kind: 'marker', ms: this.session.elapsedMs() });
	}

	/** Takes readings from before the recording; the `ms` of those from before Start are negative. */
	takeEarlier(corner: number, readings: readonly Reading[]): void {
		for (const reading of readings) {
			// Some may have come since Start, while the session's code was being fetched.
			this.#live.take(corner, reading);
			this.#note({ kind: 'reading', corner, ...reading });
		}
	}

	/**
	 * Ends the session at `endedMs` and stores it: journal out, records in, one transaction. If the store
	 * refuses, the answer still holds the records, with the problem beside them, so that nothing is lost; asked again,
	 * it tries again. Of a store that does not answer, `later` says what came of it in the end: undefined, or a problem.
	 */
	async end(endedMs: number): Promise<Ended> {
		this.#stop();
		// A sleep that is still in doubt is none in the record either.
		this.#live.advanceTo(endedMs);
		const records = this.#builder.build(endedMs).map(measured);
		// What is still unanswered is waited for: a second try beside the first could only find its records there.
		this.#finishing ??= this.#finish(records);
		const later = this.#finishing;
		const { signal } = new AbortController();
		try {
			const problem = await within(this.parts.writeClock, answerWithinMs, signal, later);
			return problem === undefined ? { records } : { records, problem };
		} catch {
			return { records, problem: new StoreSilent(), later };
		}
	}

	/** Answers why it could not be stored; nothing where it was. */
	async #finish(records: readonly MeasuredRecord[]): Promise<unknown> {
		try {
			await this.parts.sink.finish(records);
			return undefined;
		} catch (problem) {
			return problem;
		} finally {
			this.#finishing = undefined;
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

	/** From now on this strap answers for the corner. That it is another one than before, the record says. */
	attach(corner: number, strap: Strap): void {
		const known = this.#builder.corners.get(corner);
		if (!known) return;
		const worn = known.strapChanges.at(-1) ?? known.entrant;
		if (worn.strapName === strap.name && worn.practice === strap.practice) this.#links.set(corner, strap);
		else this.#changeStrap(corner, strap);
		this.#changed();
	}

	/** The straps of two corners change places: each answered for the wrong athlete until now. */
	swap(one: number, other: number): void {
		if (one === other || ![one, other].every((corner) => this.present.includes(corner))) return;
		const straps = [this.strapOf(one), this.strapOf(other)];
		this.advance();
		for (const [corner, strap] of [[one, straps[1]] as const, [other, straps[0]] as const]) {
			if (strap) this.#changeStrap(corner, strap, true);
			else this.#links.cut(corner);
		}
		this.#changed();
	}

	/** An athlete joins in mid-session; answers their corner. Then `attach` their strap. */
	join(entrant: Entrant): number {
		const corner = this.corners.length;
		const ms = Math.max(0, Math.round(this.advance()));
		this.#note({ kind: 'join', corner, ms, entrant });
		this.#live.seat(corner);
		this.#changed();
		return corner;
	}

	/** An athlete leaves in mid-session; their record ends here. Answers false for the last one, who finishes instead. */
	leave(corner: number): boolean {
		if (this.present.length < 2 || !this.present.includes(corner)) return false;
		const ms = Math.round(this.advance());
		this.#links.cut(corner);
		this.#note({ kind: 'leave', corner, ms });
		this.#changed();
		return true;
	}

	#changeStrap(corner: number, strap: Strap, isSwapped = false): void {
		const ms = Math.round(this.session.elapsedMs());
		const { name: strapName, practice } = strap;
		const change: StrapChange = { ms, strapName, practice, ...(isSwapped && { swapped: true }) };
		this.#note({ kind: 'strap', corner, change });
		this.#live.changeStrap(corner, ms);
		this.#links.set(corner, strap, ms);
	}

	#take(corner: number, elapsedMs: number, measurement: HeartRateMeasurement): void {
		// Heard before anybody was woken for the last bell: it is none of the session's.
		if (elapsedMs > this.session.endMs) return;
		const reading: Reading = { ms: elapsedMs, ...measurement };
		this.#live.take(corner, reading);
		this.#note({ kind: 'reading', corner, ...reading });
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
		for (const corner of this.present) this.#event(corner, { kind: 'slept', ms });
		// Something may have been amended since, while it was not yet known for a sleep.
		if (!this.amend('pause', before.elapsedMs)) this.amend('pause');
		this.onSlept?.();
		this.#changed();
	}

	#event(corner: number, event: CornerEvent): void {
		this.#note({ kind: 'event', corner, event });
	}

	#note(entry: JournalEntry): void {
		this.#builder.push(entry);
		this.#writer.push(entry);
	}

	#stop(): void {
		this.#writer.stop();
		this.#links.cutAll();
	}

	#changed(): void {
		for (const listener of this.#listeners) listener();
	}
}

/** Corners whose signal was lost and not back at the end of a journal. */
function lostIn(history: readonly JournalEntry[]): Set<number> {
	const lost = new Set<number>();
	for (const entry of history) {
		if (entry.kind !== 'event') continue;
		if (entry.event.kind === 'signal lost') lost.add(entry.corner);
		if (entry.event.kind === 'signal back') lost.delete(entry.corner);
	}
	return lost;
}
