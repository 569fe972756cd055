import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

/** A worker whose timers run when the test says so. */
class HandWorker extends EventTarget {
	static made: HandWorker[] = [];
	readonly asked: [id: number, ms: number][] = [];
	constructor() {
		super();
		HandWorker.made.push(this);
	}
	postMessage(message: [number, number]) {
		this.asked.push(message);
	}
	/** Whatever was asked for within so many milliseconds falls due. */
	pass(ms: number) {
		for (const [id, dueMs] of this.asked.splice(0))
			if (dueMs <= ms) this.dispatchEvent(new MessageEvent('message', { data: id }));
	}
}

describe('the wake of a page whose own timers the browser holds back', () => {
	beforeEach(() => {
		vi.resetModules();
		vi.useFakeTimers();
		HandWorker.made = [];
	});
	afterEach(() => {
		vi.useRealTimers();
		vi.unstubAllGlobals();
	});

	async function realClock() {
		const { realClock } = await import('$lib/time/clock');
		return realClock();
	}

	it('comes from the worker, once, and the late timer adds nothing', async () => {
		vi.stubGlobal('Worker', HandWorker);
		const clock = await realClock();
		const woken: string[] = [];
		clock.wakeAt(clock.nowMs() + 250, () => woken.push('in a quarter of a second'));
		clock.wakeAt(clock.nowMs() + 60_000, () => woken.push('in a minute'));
		const [worker] = HandWorker.made;
		worker!.pass(250);
		expect(woken).toEqual(['in a quarter of a second']);
		vi.advanceTimersByTime(60_000);
		expect(woken).toEqual(['in a quarter of a second', 'in a minute']);
		expect(HandWorker.made, 'one wakes them all').toHaveLength(1);
	});

	it('does not come from the worker either where it is taken back', async () => {
		vi.stubGlobal('Worker', HandWorker);
		const clock = await realClock();
		const wake = vi.fn();
		clock.wakeAt(clock.nowMs() + 250, wake)();
		HandWorker.made[0]!.pass(250);
		vi.advanceTimersByTime(250);
		expect(wake).not.toHaveBeenCalled();
	});

	it('comes from the page alone where there is no worker, or it is refused', async () => {
		const asked = vi.fn();
		class Refused {
			constructor() {
				asked();
				throw new DOMException('by policy', 'SecurityError');
			}
		}
		for (const kind of [undefined, Refused]) {
			vi.resetModules();
			vi.stubGlobal('Worker', kind);
			const clock = await realClock();
			const wake = vi.fn();
			clock.wakeAt(clock.nowMs() + 250, wake);
			clock.wakeAt(clock.nowMs() + 250, wake);
			vi.advanceTimersByTime(250);
			expect(wake).toHaveBeenCalledTimes(2);
		}
		expect(asked, 'it is asked for once').toHaveBeenCalledTimes(1);
	});
});
