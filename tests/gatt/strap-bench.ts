import type { Clock } from '$lib/time/clock';
import type { Strap, StrapReading, StrapState } from '$lib/gatt/strap';
import { manualClock, type ManualClock } from '$lib/time/manual-clock';

/** A manual clock that knows how many wakes are still to come. */
export interface WatchedClock extends ManualClock {
	readonly wakesToCome: number;
}

export function watchedClock(startMs = 0): WatchedClock {
	const clock = manualClock(startMs);
	const toCome = new Set<object>();
	return {
		nowMs: clock.nowMs,
		advanceTo: clock.advanceTo,
		get wakesToCome() {
			return toCome.size;
		},
		wakeAt(atMs, wake) {
			const ticket = {};
			toCome.add(ticket);
			const cancel = clock.wakeAt(atMs, () => {
				toCome.delete(ticket);
				wake();
			});
			return () => {
				toCome.delete(ticket);
				cancel();
			};
		}
	};
}

/** Lets every promise that can be settled without time passing be settled. */
export function settled(): Promise<void> {
	return new Promise((resolve) => setImmediate(resolve));
}

/** Lets waiting promises take `steps` steps and no more. */
export async function microtasks(steps: number): Promise<void> {
	for (let step = 0; step < steps; step++) await Promise.resolve();
}

/** Moves the clock on by `ms` in small steps, so that promises waited for come in between. */
export async function pass(clock: ManualClock, ms: number, stepMs = 50): Promise<void> {
	const endMs = clock.nowMs() + ms;
	await settled();
	while (clock.nowMs() < endMs) {
		clock.advanceTo(Math.min(endMs, clock.nowMs() + stepMs));
		await settled();
	}
}

interface Heard {
	readings: StrapReading[];
	states: StrapState['kind'][];
}

/** Writes down what a strap says: its packets, and its states whenever they change. */
export function listenTo(strap: Strap): Heard {
	const heard: Heard = { readings: [], states: [] };
	strap.onReading((reading) => heard.readings.push(reading));
	strap.onChange(() => {
		if (heard.states.at(-1) !== strap.state.kind) heard.states.push(strap.state.kind);
	});
	return heard;
}

/** The same clock whose wakes come `lateMs()` late, as those of a page that was frozen. */
export function lateClock(clock: Clock, lateMs: () => number): Clock {
	return { nowMs: clock.nowMs, wakeAt: (atMs, wake) => clock.wakeAt(atMs + lateMs(), wake) };
}
