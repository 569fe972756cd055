import { amendmentKinds, type Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';
import { accepts, isPausedAt, phaseAt, timelineOf, type Phase } from '$lib/rounds/timeline';
import type { Clock } from '$lib/time/clock';

/**
 * The one clock of a session: the plan, what became of it, and elapsed time. Elapsed time is milliseconds
 * since Start was pressed, pauses included, on a clock that never goes back.
 */
export class SessionClock {
	#amendments: readonly Amendment[];
	#timeline: Phase[];
	#originMs: number;
	/** Before the last shift the origin was another: what is stamped earlier keeps its elapsed time. */
	#shifted: { atMs: number; fromMs: number } | undefined;
	#possible: { phase?: Phase; isPaused: boolean; kinds: ReadonlySet<Amendment['kind']> } | undefined;

	constructor(
		readonly clock: Clock,
		readonly plan: Plan,
		originMs: number,
		amendments: readonly Amendment[] = []
	) {
		this.#originMs = originMs;
		this.#amendments = amendments;
		this.#timeline = timelineOf(plan, amendments);
	}

	get amendments(): readonly Amendment[] {
		return this.#amendments;
	}

	get timeline(): Phase[] {
		return this.#timeline;
	}

	/** The clock's time at elapsed zero. */
	get originMs(): number {
		return this.#originMs;
	}

	/** The present, in whole milliseconds like all that is kept: what is counted by now then agrees with what is stamped. */
	elapsedMs(): number {
		return Math.round(this.clock.nowMs() - this.#originMs);
	}

	/** Elapsed ms, whole, at a time of the clock, which may lie before a shift. */
	elapsedAt(clockMs: number): number {
		const shifted = this.#shifted;
		return Math.round(clockMs - (shifted && clockMs < shifted.atMs ? shifted.fromMs : this.#originMs));
	}

	/**
	 * Adds time that the clock did not count, because the computer slept and the clock with it. The heart has
	 * lived through it, so elapsed time has too; it leaps ahead and never back.
	 *
	 * @param missingMs at least 0
	 */
	addMissing(missingMs: number): void {
		this.#shifted = { atMs: this.clock.nowMs(), fromMs: this.#originMs };
		this.#originMs -= missingMs;
	}

	/** Elapsed ms at which the last phase ends; Infinity while paused. */
	get endMs(): number {
		return this.#timeline.at(-1)?.endMs ?? 0;
	}

	phaseAt(ms: number): Phase | undefined {
		return phaseAt(this.#timeline, ms);
	}

	/** The amendments that are possible at `ms`; worked out anew only where the answer can have changed. */
	possibleAt(ms: number): ReadonlySet<Amendment['kind']> {
		const phase = this.phaseAt(ms);
		const isPaused = isPausedAt(this.#timeline, ms);
		const known = this.#possible;
		if (known && known.phase === phase && known.isPaused === isPaused) return known.kinds;
		const possible = new Set(amendmentKinds.filter((kind) => this.accepts(kind, ms)));
		this.#possible = { phase, isPaused, kinds: possible };
		return possible;
	}

	/** The number of rounds planned by now. */
	get roundCount(): number {
		return this.plan.roundCount + this.#amendments.filter(({ kind }) => kind === 'add round').length;
	}

	accepts(kind: Amendment['kind'], atMs: number): boolean {
		return accepts(this.plan, this.#amendments, kind, atMs);
	}

	/** Appends an amendment; the answer is undefined where it is not possible at that moment. */
	amend(kind: Amendment['kind'], atMs: number): Amendment | undefined {
		if (!this.accepts(kind, atMs)) return undefined;
		const amendment: Amendment = { kind, atMs };
		this.#amendments = [...this.#amendments, amendment];
		this.#timeline = timelineOf(this.plan, this.#amendments);
		return amendment;
	}
}
