import { StrapError, type Strap, type StrapErrorCode } from '$lib/gatt/strap';
import type { Clock } from '$lib/time/clock';
import { createSubscriber } from 'svelte/reactivity';
import type { Pace } from './pace.svelte';
import type { Seat, SeatView } from './seat';

/** How often the strap check is looked at, packet or not. */
const lookEveryMs = 1000;

/**
 * Which strap one athlete wears, and on which clock: the real one, or one that runs `speed` times as fast
 * with the practice strap. Chosen before Start; chosen again where a session goes on without its strap. The clock
 * is that of all corners.
 */
export class StrapChoice {
	#error = $state.raw<StrapError>();
	#seat: Seat | undefined;
	/** On its way back without a press. */
	#coming: Strap | undefined;
	/** Present while an effect reads `view`: in a session nobody does, and a packet costs nothing here. */
	#tell: (() => void) | undefined;
	#cancelLook: (() => void) | undefined;
	readonly #onView = createSubscriber((update) => {
		this.#tell = update;
		this.#lookLater();
		return () => {
			this.#tell = undefined;
			this.#cancelLook?.();
		};
	});

	/**
	 * @param effortAt how hard the simulated athlete works at a time of `clock`; undefined before the first bell
	 * @param heart which of the simulated athletes
	 */
	constructor(
		private readonly effortAt: (clockMs: number) => number | undefined,
		private readonly pace: Pace,
		private readonly heart = 0,
		private readonly newSeed: () => number = () => Math.floor(Math.random() * 2 ** 31)
	) {}

	/** The strap at this moment; read in an effect, at every packet and every second anew. */
	get view(): SeatView | undefined {
		this.#onView();
		return this.#seat?.viewAt(this.clock.nowMs());
	}
	/** Why the last try to get a strap failed; absent after a dismissed chooser, which needs no words. */
	get error(): StrapErrorCode | undefined {
		return this.#error?.code;
	}
	/** The strap that has the device which the last try was for, where that is `worn already`. */
	get holder(): Strap | undefined {
		return this.#error?.holder;
	}
	get speed(): number {
		return this.pace.speed;
	}
	get clock(): Clock {
		return this.pace.clock;
	}
	get seat(): Seat | undefined {
		return this.#seat;
	}

	/** Opens the browser's chooser; call in a user's gesture. Answers the strap once it is connected. */
	async pair(keepClock: boolean): Promise<Strap | undefined> {
		// A real strap beats at the pace of life: it neither takes the clock from a session nor joins one at speed.
		if (keepClock ? this.pace.speed !== 1 : this.pace.isHeld) return undefined;
		this.#error = undefined;
		try {
			if (!keepClock) {
				this.#leave();
				this.pace.set(1);
			}
			// Here and not above, as with the practice strap: the first screen opens without either.
			const { pairStrap } = await import('$lib/gatt/pair-strap');
			return await this.#take(
				await pairStrap({ clock: this.clock, instead: this.#seat?.strap ?? this.#coming })
			);
		} catch (error) {
			return this.#fail(error);
		}
	}

	/** Puts the simulated athlete in place of a strap. */
	async practise(speed: number | 'keep clock'): Promise<Strap | undefined> {
		if (this.pace.isHeld && speed !== 'keep clock') return undefined;
		this.#error = undefined;
		if (speed !== 'keep clock') {
			this.#leave();
			this.pace.set(speed);
		}
		const { clock } = this;
		const [{ practiceStrap }, { practiceHearts, standingEffort }] = await Promise.all([
			import('$lib/gatt/practice-strap'),
			import('./practice-hearts')
		]);
		const effortAt = (clockMs: number) => this.effortAt(clockMs) ?? standingEffort;
		const strap = practiceStrap({ clock, seed: this.newSeed(), effortAt, ...practiceHearts[this.heart] });
		try {
			return await this.#take(strap);
		} catch (error) {
			return this.#fail(error);
		}
	}

	/**
	 * Takes a strap that comes back without a press, once it is connected, unless another one is chosen before. Nobody is
	 * told of one that does not answer, since nobody asked.
	 */
	async takeBack(strap: Strap): Promise<Strap | undefined> {
		if (this.#seat) {
			strap.close();
			return undefined;
		}
		this.#coming = strap;
		await strap.connect().catch(() => strap.close());
		// Whoever chose another has given this one back.
		if (this.#coming !== strap) return undefined;
		this.#coming = undefined;
		return strap.state.kind === 'closed' ? undefined : this.#take(strap);
	}

	/** Gives the strap back, unless a session runs on it. */
	leave(): void {
		if (!this.pace.isHeld) this.#leave();
	}

	/** Gives the strap back, whatever runs on it. */
	letGo(): void {
		this.#leave();
	}

	/** The clock is another one: a practice strap begins anew on it, a real one is given back. */
	followClock(): void {
		const isPractising = this.#seat?.strap.practice;
		this.#leave();
		if (isPractising) void this.practise('keep clock');
	}

	#leave(): void {
		this.#coming?.close();
		this.#coming = undefined;
		this.#seat?.leave();
		this.#seat?.strap.close();
		this.#seat = undefined;
		this.#changed();
	}

	async #take(strap: Strap): Promise<Strap> {
		const { Seat } = await import('./seat');
		this.#leave();
		const seat = new Seat(strap, () => this.#changed());
		this.#seat = seat;
		this.#changed();
		try {
			await strap.connect();
		} catch (error) {
			// Another strap may have been chosen meanwhile; only the failed one leaves.
			if (this.#seat === seat) this.#leave();
			throw error;
		}
		return strap;
	}

	#fail(error: unknown): undefined {
		if (!(error instanceof StrapError)) throw error;
		this.#error = error.code === 'cancelled' ? undefined : error;
	}

	/** What `view` answers is another. */
	#changed(): void {
		if (!this.#tell) return;
		this.#tell();
		this.#lookLater();
	}

	#lookLater(): void {
		this.#cancelLook?.();
		if (this.#seat)
			this.#cancelLook = this.clock.wakeAt(this.clock.nowMs() + lookEveryMs, () => this.#changed());
	}
}
