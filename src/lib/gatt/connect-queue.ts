import type { Clock } from '$lib/time/clock';
import { within } from './limited-wait';

/** One try to connect a device. */
interface Attempt<T> {
	clock: Clock;
	/** How long it may take once it is its turn, ms. */
	limitMs: number;
	/** It did not answer the last time: everybody else goes before it. */
	hasHung: boolean;
	/** Gives the try up, be it under way or still waiting. */
	signal: AbortSignal;
	connect: () => Promise<T>;
	/** Ends what `connect` began and nobody waits for any more, before the next device has its turn. */
	hangUp: () => void;
}

/**
 * One connect at a time, in the order of asking: on phones those that overlap fail. A device that does not answer
 * holds the others for its limit and no longer, and stands behind them the next time, so that several of these do
 * not add up for one that is there.
 */
export class ConnectQueue {
	/** Let in, in order, whoever waits. */
	readonly #waiting = new Set<() => void>();
	/** The same for those that hung: after all others. */
	readonly #behind = new Set<() => void>();
	#isBusy = false;

	/** @throws TimedOut, the signal's reason, or whatever `connect` rejects with. */
	async run<T>({ clock, limitMs, hasHung, signal, connect, hangUp }: Attempt<T>): Promise<T> {
		await this.#turn(hasHung ? this.#behind : this.#waiting, signal);
		try {
			// It may have been given up in the moment between.
			signal.throwIfAborted();
			return await within(clock, limitMs, signal, connect()).catch((cause: unknown) => {
				hangUp();
				throw cause;
			});
		} finally {
			this.#pass();
		}
	}

	async #turn(line: Set<() => void>, signal: AbortSignal): Promise<void> {
		signal.throwIfAborted();
		if (this.#isBusy) await this.#wait(line, signal);
		else this.#isBusy = true;
	}

	#wait(line: Set<() => void>, signal: AbortSignal): Promise<void> {
		return new Promise((resolve, reject) => {
			const enter = () => {
				line.delete(enter);
				signal.removeEventListener('abort', leave);
				resolve();
			};
			const leave = () => {
				line.delete(enter);
				reject(signal.reason as Error);
			};
			line.add(enter);
			signal.addEventListener('abort', leave, { once: true });
		});
	}

	#pass(): void {
		const [enter] = [...this.#waiting, ...this.#behind];
		if (enter) enter();
		else this.#isBusy = false;
	}
}

/** A browser has one radio. */
const queues = new WeakMap<Bluetooth, ConnectQueue>();

/** The queue in which all devices of this radio are connected. */
export function connectQueueOf(bluetooth: Bluetooth): ConnectQueue {
	let queue = queues.get(bluetooth);
	if (!queue) queues.set(bluetooth, (queue = new ConnectQueue()));
	return queue;
}
