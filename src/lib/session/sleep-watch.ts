import { believedMs } from '$lib/record/limits';

/** Packets this close on both sides of a leap: nobody slept, somebody set the clock. */
const awakeMs = 3000;
/** Own rule: a wall clock that leaps by less is being corrected, and shifts no bell that anybody would miss. */
const leapMs = 5000;
/** Own rule: a hidden page may be woken a minute late; longer than this without any sign, and it was not running. */
const absentMs = 75_000;

/** A moment at which the page was seen to live. */
export interface Sign {
	by: 'packet' | 'wake';
	/** The monotonic clock, at its own speed. It may stand still while the computer sleeps. */
	monotonicMs: number;
	/** The wall clock, ms since 1970. It goes on through a sleep, and leaps when somebody sets it. */
	wallMs: number;
	/** Elapsed ms of the session. */
	elapsedMs: number;
}

export interface Slept {
	kind: 'slept';
	/** The last sign before the gap. */
	before: Sign;
	lengthMs: number;
	/** What of it the monotonic clock did not count, at least 0. */
	missingMs: number;
}

export type Leap = Slept | { kind: 'clock change' };

/**
 * Tells sleep from a clock change. Two faces of sleep: the monotonic clock stood still, so the wall clock has
 * leapt ahead of it; or it went on, and there was neither packet nor wake. A leap between packets less than
 * 3 s apart, one backwards, or one of more than a week is a clock that was set. After a leap ahead it can take these 3 s until the
 * answer is known. The cost of a sign does not depend on how many came before.
 */
export class SleepWatch {
	#last: Sign | undefined;
	#packetMs = -Infinity;
	/** A leap ahead that a packet may still explain. */
	#open: { before: Sign; missingMs: number } | undefined;

	/** The last sign before a leap that is not understood yet. */
	get doubtedSince(): Sign | undefined {
		return this.#open?.before;
	}

	/** Takes a sign, in order of their coming; answers what it reveals. */
	see(sign: Sign): Leap | undefined {
		const before = this.#last;
		const sincePacketMs = sign.monotonicMs - this.#packetMs;
		this.#last = sign;
		if (sign.by === 'packet') this.#packetMs = sign.monotonicMs;
		if (!before) return undefined;

		const goneMs = sign.monotonicMs - before.monotonicMs;
		const missingMs = believedMs(sign.wallMs - before.wallMs - goneMs);
		if (goneMs >= absentMs) {
			const open = this.#open;
			const lostMs = (open?.missingMs ?? 0) + (missingMs >= leapMs ? missingMs : 0);
			const from = open?.before ?? before;
			return this.#slept(from, sign.monotonicMs - from.monotonicMs + lostMs, lostMs);
		}
		if (missingMs <= -leapMs) {
			// Set ahead and back again.
			this.#open = undefined;
			return { kind: 'clock change' };
		}
		if (missingMs >= leapMs)
			this.#open = {
				before: this.#open?.before ?? before,
				missingMs: (this.#open?.missingMs ?? 0) + missingMs
			};
		const open = this.#open;
		if (!open) return undefined;
		if (sincePacketMs >= awakeMs) return this.#slept(open.before, open.missingMs, open.missingMs);
		if (sign.by === 'wake') return undefined;
		this.#open = undefined;
		return { kind: 'clock change' };
	}

	#slept(before: Sign, lengthMs: number, missingMs: number): Slept {
		this.#open = undefined;
		return { kind: 'slept', before, lengthMs, missingMs };
	}
}
