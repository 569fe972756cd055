import { realClock, type Clock } from '$lib/time/clock';

/** The clock that all straps share: the real one, or one that runs `speed` times as fast, for practice straps only. */
export class Pace {
	#speed = $state(1);
	#clock: Clock = realClock();
	/** While a session runs on the clock it is not chosen anew. */
	isHeld = false;

	/** @param onChange called after another clock has taken the place of the old one; what hangs on that one must go */
	constructor(private readonly onChange: () => void) {}

	get speed(): number {
		return this.#speed;
	}
	get clock(): Clock {
		return this.#clock;
	}

	set(speed: number): void {
		if (this.isHeld || speed === this.#speed) return;
		this.#speed = speed;
		this.#clock = realClock(speed);
		this.onChange();
	}
}
