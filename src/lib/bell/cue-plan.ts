import type { Clock } from '$lib/time/clock';
import { audioTimeAt } from './audio-bridge';
import { silence, type AudioOutput } from './audio-output';
import type { Cue } from './cues';
import type { Sound } from './sound';

// A tab hidden for long is woken once a minute: two wakes may be missed and the next bell is planned all the same.
const horizonMs = 150_000;
const lateMs = 50;
// What an amendment rings is due at the press itself: on a busy page the plan hears of it some frames later.
const lateAfterAmendmentMs = 200;
const driftS = 0.003;
// A source this close to its start cannot be taken back without a crackle.
const underwayS = 0.01;
// The same sound due twice within this time is one stroke, planned again by an amendment on its very moment.
const sameStrokeMs = 250;

interface Planned {
	cue: Cue;
	startS: number;
	source: AudioBufferSourceNode;
}

/** Cues on their way into one audio output: which are planned there, which have begun, which are still to come. */
export class CuePlan {
	readonly #clock: Clock;
	#cues: readonly Cue[] = [];
	#originMs = 0;
	#next = 0;
	/** Replaced since it was last looked after. */
	#isNew = false;
	#planned: Planned[] = [];
	/** Strokes under way or begun a moment ago, with their time on the session's clock. */
	#begun: { sound: Sound; dueMs: number }[] = [];

	/** @param clock the page's, on whose scale cues are due */
	constructor(clock: Clock) {
		this.#clock = clock;
	}

	/** Time until the next cue is due; undefined after the last. */
	get toNextMs(): number | undefined {
		const cue = this.#planned[0]?.cue ?? this.#cues[this.#next];
		return cue && this.#originMs + cue.atMs - this.#clock.nowMs();
	}

	replace(cues: readonly Cue[], originMs: number, output: AudioOutput | undefined) {
		this.takeBack(output);
		this.#cues = cues;
		this.#originMs = originMs;
		this.#isNew = true;
	}

	/** Silences everything that has not begun. It stays to be planned again, if its time has not passed by then. */
	takeBack(output: AudioOutput | undefined) {
		if (output) this.#settle(output);
		for (const { source } of this.#planned) silence(source);
		this.forget();
	}

	/** The output is gone, and what was planned in it. */
	forget() {
		this.#planned = [];
		this.#next = 0;
	}

	/** Follows the drift between the two clocks, then plans up to the horizon. Looks at what is planned only. */
	lookAfter(output: AudioOutput, sounds: Record<Sound, AudioBuffer>, delayMs: number) {
		this.#settle(output);
		const { context } = output;
		const nowMs = this.#clock.nowMs();
		const startOf = (dueMs: number) =>
			Math.max(context.currentTime, audioTimeAt(context, dueMs - delayMs, nowMs));
		const mostMs = this.#isNew ? lateAfterAmendmentMs : lateMs;
		this.#isNew = false;
		const isLate = (dueMs: number) => nowMs - dueMs > mostMs;
		const hand = (cue: Cue, startS: number) => {
			const source = output.start(cue.sound, sounds[cue.sound], startS);
			this.#planned.push({ cue, startS, source });
		};

		const before = this.#planned;
		this.#planned = [];
		for (const planned of before) {
			const dueMs = this.#originMs + planned.cue.atMs;
			const startS = startOf(dueMs);
			if (Math.abs(startS - planned.startS) <= driftS) this.#planned.push(planned);
			else {
				silence(planned.source);
				// Late here means that the audio clock stood still while the page's went on.
				if (!isLate(dueMs)) hand(planned.cue, startS);
			}
		}

		for (let cue = this.#cues[this.#next]; cue; cue = this.#cues[++this.#next]) {
			const dueMs = this.#originMs + cue.atMs;
			if (dueMs - nowMs > horizonMs) break;
			if (!isLate(dueMs) && !this.#hasBegun(cue.sound, dueMs)) hand(cue, startOf(dueMs));
		}
	}

	#hasBegun(sound: Sound, dueMs: number): boolean {
		return this.#begun.some(
			(stroke) => stroke.sound === sound && Math.abs(stroke.dueMs - dueMs) < sameStrokeMs
		);
	}

	/** Files away what has begun; what is left can still be taken back. */
	#settle({ context }: AudioOutput) {
		const underway = context.currentTime + underwayS;
		const isUnderway = ({ startS }: Planned) => startS <= underway;
		for (const { cue } of this.#planned.filter(isUnderway))
			this.#begun.push({ sound: cue.sound, dueMs: this.#originMs + cue.atMs });
		this.#planned = this.#planned.filter((planned) => !isUnderway(planned));
		this.#begun = this.#begun.filter(({ dueMs }) => dueMs > this.#clock.nowMs() - sameStrokeMs);
	}
}
