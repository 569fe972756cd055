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
const driftS = 0.001;
// The audio thread reckons ahead in bursts, on a busy machine of some 40 ms: a stroke so near its start that is taken
// back and started anew may be heard twice, or late. Such a one stays where it is.
const nearS = 0.06;
// A source this close to its start cannot be taken back without a crackle.
const underwayS = 0.01;
// The same sound due twice within this time is one stroke, planned again by an amendment on its very moment.
const sameStrokeMs = 250;

/** A cue with its time on the page's clock. */
interface Stroke {
	sound: Sound;
	dueMs: number;
}

interface Planned extends Stroke {
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
	/** In order of time. */
	#planned: Planned[] = [];
	/** Under way or begun a moment ago. */
	#begun: Stroke[] = [];

	/** @param clock the page's, on whose scale cues are due */
	constructor(clock: Clock) {
		this.#clock = clock;
	}

	/** Time until the next cue is due; undefined after the last. */
	get toNextMs(): number | undefined {
		const cue = this.#cues[this.#next];
		const dueMs = this.#planned[0]?.dueMs ?? (cue && this.#dueMsOf(cue));
		return dueMs === undefined ? undefined : dueMs - this.#clock.nowMs();
	}

	/** What the new cues ring at the same moment stays as it is planned: taken back and started anew it might be late. */
	replace(cues: readonly Cue[], originMs: number, output: AudioOutput | undefined) {
		if (output) this.#settle(output);
		this.#cues = cues;
		this.#originMs = originMs;
		this.#isNew = true;
		const stays = (planned: Planned) =>
			cues.some((cue) => cue.sound === planned.sound && this.#dueMsOf(cue) === planned.dueMs);
		for (const planned of this.#planned) if (!stays(planned)) silence(planned.source);
		this.#planned = this.#planned.filter(stays);
		this.#next = 0;
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
		const hand = ({ sound, dueMs }: Stroke, startS: number) => {
			const source = output.start(sound, sounds[sound], startS);
			this.#planned.push({ sound, dueMs, startS, source });
		};

		const before = this.#planned;
		this.#planned = [];
		for (const planned of before) {
			const startS = startOf(planned.dueMs);
			const isNear = planned.startS - context.currentTime < nearS;
			const isThere = isNear || Math.abs(startS - planned.startS) <= driftS;
			// Late and still to come means that the audio clock stood still while the page's went on.
			const isPast = isLate(planned.dueMs);
			if (isThere && !isPast) this.#planned.push(planned);
			else {
				silence(planned.source);
				if (!isPast) hand(planned, startS);
			}
		}

		for (let cue = this.#cues[this.#next]; cue; cue = this.#cues[++this.#next]) {
			const stroke = { sound: cue.sound, dueMs: this.#dueMsOf(cue) };
			if (stroke.dueMs - nowMs > horizonMs) break;
			if (!isLate(stroke.dueMs) && !this.#isUnderwayOrPlanned(stroke)) hand(stroke, startOf(stroke.dueMs));
		}
		this.#planned.sort((a, b) => a.dueMs - b.dueMs);
	}

	#dueMsOf(cue: Cue): number {
		return this.#originMs + cue.atMs;
	}

	#isUnderwayOrPlanned({ sound, dueMs }: Stroke): boolean {
		const isBegun = this.#begun.some(
			(stroke) => stroke.sound === sound && Math.abs(stroke.dueMs - dueMs) < sameStrokeMs
		);
		return isBegun || this.#planned.some((stroke) => stroke.sound === sound && stroke.dueMs === dueMs);
	}

	/** Files away what has begun; what is left can still be taken back. */
	#settle({ context }: AudioOutput) {
		const underway = context.currentTime + underwayS;
		const isUnderway = ({ startS }: Planned) => startS <= underway;
		for (const { sound, dueMs } of this.#planned.filter(isUnderway)) this.#begun.push({ sound, dueMs });
		this.#planned = this.#planned.filter((planned) => !isUnderway(planned));
		this.#begun = this.#begun.filter(({ dueMs }) => dueMs > this.#clock.nowMs() - sameStrokeMs);
	}
}
