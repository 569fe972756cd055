import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { realClock } from '$lib/time/clock';

describe('the real clock', () => {
	beforeEach(() => {
		vi.useFakeTimers();
	});
	afterEach(() => {
		vi.useRealTimers();
	});

	it('tells the time of performance.now()', () => {
		const clock = realClock();
		vi.advanceTimersByTime(1234);

		expect(clock.nowMs()).toBe(performance.now());
	});

	it.each([1, 10, 60])('at %i times the speed runs that fast from the moment it was made', (speed) => {
		vi.advanceTimersByTime(5000);
		const clock = realClock(speed);
		const startMs = clock.nowMs();
		expect(startMs).toBe(performance.now());
		vi.advanceTimersByTime(1000);

		expect(clock.nowMs() - startMs).toBe(1000 * speed);
	});

	it.each([1, 10, 60])('at %i times the speed wakes at its own time and not before', (speed) => {
		const clock = realClock(speed);
		const startMs = clock.nowMs();
		const woken: number[] = [];
		clock.wakeAt(startMs + 6000, () => woken.push(clock.nowMs() - startMs));
		vi.advanceTimersByTime(6000 / speed - 1);
		expect(woken).toEqual([]);
		vi.advanceTimersByTime(1);

		expect(woken).toEqual([6000]);
	});

	it('wakes for a past time as soon as possible, but never inside the call', () => {
		const clock = realClock();
		vi.advanceTimersByTime(1000);
		let wakes = 0;
		clock.wakeAt(0, () => wakes++);
		expect(wakes).toBe(0);
		vi.advanceTimersByTime(0);

		expect(wakes).toBe(1);
	});

	it('wakes once, and not at all where it is taken back', () => {
		const clock = realClock();
		const woken: string[] = [];
		clock.wakeAt(clock.nowMs() + 100, () => woken.push('once'));
		clock.wakeAt(clock.nowMs() + 100, () => woken.push('taken back'))();
		vi.advanceTimersByTime(1000);

		expect(woken).toEqual(['once']);
	});

	// setTimeout keeps its delay in 32 bits (WHATWG HTML, timers: a long in Web IDL) and would fire at once.
	it('waits for a time that is further away than a timer reaches, and can be taken back on the way', () => {
		const clock = realClock();
		const thirtyDaysMs = 30 * 24 * 3_600_000;
		const woken: string[] = [];
		clock.wakeAt(clock.nowMs() + thirtyDaysMs, () => woken.push('after thirty days'));
		const cancel = clock.wakeAt(clock.nowMs() + thirtyDaysMs, () => woken.push('taken back'));
		vi.advanceTimersByTime(thirtyDaysMs - 1);
		expect(woken).toEqual([]);
		cancel();
		vi.advanceTimersByTime(1);

		expect(woken).toEqual(['after thirty days']);
	});
});
