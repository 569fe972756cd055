import type { Clock } from '$lib/time/clock';

/** What a wait ends with where nothing came in time. */
export class TimedOut extends Error {
	override readonly name = 'TimedOut';
}

/**
 * Waits for `work` until `limitMs` have passed on the clock or `signal` aborts, whichever comes first. Work left
 * behind goes on unheard: a rejection that comes later disturbs nobody.
 *
 * @throws TimedOut, the signal's reason, or whatever `work` rejects with.
 */
export function within<T>(clock: Clock, limitMs: number, signal: AbortSignal, work: Promise<T>): Promise<T> {
	return new Promise((resolve, reject) => {
		const giveUp = (reason: unknown) => {
			stopWaiting();
			reject(reason);
		};
		const onAbort = () => giveUp(signal.reason);
		const cancelWake = clock.wakeAt(clock.nowMs() + limitMs, () =>
			giveUp(new TimedOut(`Nothing came within ${limitMs} ms.`))
		);
		const stopWaiting = () => {
			cancelWake();
			signal.removeEventListener('abort', onAbort);
		};
		signal.addEventListener('abort', onAbort);
		if (signal.aborted) onAbort();
		work.then((value) => {
			stopWaiting();
			resolve(value);
		}, giveUp);
	});
}

/** Resolves after `ms` on the clock, or at once where `signal` aborts. */
export function pause(clock: Clock, ms: number, signal: AbortSignal): Promise<void> {
	return new Promise((resolve) => {
		const stopWaiting = () => {
			cancelWake();
			signal.removeEventListener('abort', stopWaiting);
			resolve();
		};
		const cancelWake = clock.wakeAt(clock.nowMs() + ms, stopWaiting);
		signal.addEventListener('abort', stopWaiting);
		if (signal.aborted) stopWaiting();
	});
}
