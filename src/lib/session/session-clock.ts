import { amendmentKinds, type Amendment } from '$lib/rounds/amendment';
import type { Block, Plan } from '$lib/rounds/plan';
import {
	courseAfter,
	courseOf,
	isPausedAt,
	phaseAt,
	phasesIn,
	type Course,
	type Phase
} from '$lib/rounds/timeline';
import type { Clock } from '$lib/time/clock';

/** A false start can be thrown away until this long after the first bell. */
const falseStartMs = 15_000;

/**
 * The one clock of a session: the plan, what became of it, and elapsed time. Elapsed time is milliseconds
 * since Start was pressed, pauses included, on a clock that never goes back.
 */
export class SessionClock {
	#amendments: readonly Amendment[];
	/** What the amendments come to: each new one is laid on it, and none is folded twice. */
	#course: Course;
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
		this.#course = courseOf(plan, amendments);
		this.#timeline = phasesIn(plan, this.#course);
	}

	get amendments(): readonly Amendment[] {
		return this.#amendments;
	}

	/** Another list after each amendment, and the same one until then. */
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

	/** Whether all of it may still be thrown away for a false start. */
	canDiscard(ms: number): boolean {
		// Before the gym's own first bell nobody knows when it comes.
		const unknownMs = this.plan.followsGymBell ? Infinity : 0;
		const firstBellMs = this.#timeline.find(({ kind }) => kind === 'work')?.startMs ?? unknownMs;
		return ms < firstBellMs + falseStartMs;
	}

	/** The blocks as they have become by now. */
	get blocks(): readonly Block[] {
		return this.#course.blocks;
	}

	accepts(kind: Amendment['kind'], atMs: number): boolean {
		return this.#courseAfter({ kind, atMs }) !== undefined;
	}

	/**
	 * Appends an amendment; the answer is undefined where it is not possible at that moment.
	 *
	 * @param block what an added block is
	 */
	append(kind: Amendment['kind'], atMs: number, block?: Block): Amendment | undefined {
		const amendment: Amendment = { kind, atMs, ...(block && { block }) };
		const course = this.#courseAfter(amendment);
		if (!course) return undefined;
		this.#amendments = [...this.#amendments, amendment];
		this.#course = course;
		this.#timeline = phasesIn(this.plan, course);
		return amendment;
	}

	#courseAfter(amendment: Amendment): Course | undefined {
		return courseAfter(this.plan, this.#course, this.#amendments.length, amendment);
	}
}
