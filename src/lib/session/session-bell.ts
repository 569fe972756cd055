import { cuesOf, type Cue } from '$lib/bell/cues';
import type { Ringer } from '$lib/bell/ringer';
import type { BellSettings } from '$lib/bell/settings';
import { promptEveryS } from '$lib/rounds/guided-plans';
import type { Phase } from '$lib/rounds/timeline';
import type { Recorder } from './recorder';
import type { Quiet } from './spoken';

/** What a session lets be heard: the bells of its timeline, planned anew where that is another, and the pulse. */
export class SessionBell {
	/** Of what the bells have been planned. */
	#planned: { timeline: readonly Phase[]; originMs: number } | undefined;
	#cues: readonly Cue[] = [];
	/** Faster than life, or where the gym's own bell rings, no bell is heard. */
	readonly #isSilent: boolean;
	/** The pulse that was due last, rung or not: none is rung that was due before. */
	#pulseMs: number;

	/** @param isLife it runs no faster than life */
	constructor(
		private readonly ringer: Ringer,
		private settings: BellSettings,
		private readonly isLife: boolean,
		{ pulseMs, session }: Recorder
	) {
		this.#isSilent = !isLife || session.plan.followsGymBell === true;
		this.#pulseMs = pulseMs;
		ringer.configure(settings);
	}

	/** What is planned is planned anew by the next `follow`. */
	change(settings: BellSettings): void {
		this.settings = settings;
		this.ringer.configure(settings);
		this.#planned = undefined;
	}

	/**
	 * Brings what is heard in line with what has become of the session.
	 *
	 * @param isSecond a second has gone by: the sound itself is looked after, too
	 */
	follow({ session, pulseMs }: Recorder, isSecond: boolean): void {
		if (isSecond) this.ringer.topUp();
		const isPulseDue = pulseMs > this.#pulseMs;
		this.#pulseMs = pulseMs;
		if (this.#isSilent) return;
		const { plan, timeline, originMs } = session;
		const { on } = this.settings;
		if (isPulseDue && on.pulse) this.ringer.ring('pulse');
		if (this.#planned?.timeline === timeline && this.#planned.originMs === originMs) return;
		this.#planned = { timeline, originMs };
		this.#cues = cuesOf(timeline, { ...plan, on, promptEveryS: promptEveryS(plan) });
		this.ringer.schedule(this.#cues, originMs);
	}

	/** A rate is over what a doctor's step allows: heard whatever sounds are chosen, and beside the hall's own bell. */
	alarm(): void {
		if (this.isLife) this.ringer.ring('pulse');
	}

	/** How long ago something rang at this moment, and how soon something will; Infinity where nothing does. */
	quietAt(elapsedMs: number): Quiet {
		const next = this.#cues.findIndex(({ atMs }) => atMs > elapsedMs);
		const last = this.#cues.at(next === -1 ? -1 : next - 1);
		return {
			sinceMs: next === 0 || !last ? Infinity : elapsedMs - last.atMs,
			untilMs: next === -1 ? Infinity : this.#cues[next]!.atMs - elapsedMs
		};
	}

	/** Nothing rings any more. */
	stop(): void {
		this.ringer.schedule([], 0);
	}
}
