import { describe, expect, it, vi } from 'vitest';
import { pause, TimedOut, within } from '$lib/gatt/limited-wait';
import { settled, watchedClock } from './strap-bench';

const never = new Promise<never>(() => {});
const live = () => new AbortController();

describe('waiting within a limit', () => {
	it('answers what the work answers and leaves no wake behind', async () => {
		const clock = watchedClock();

		await expect(within(clock, 1000, live().signal, Promise.resolve(7))).resolves.toBe(7);
		await expect(within(clock, 1000, live().signal, Promise.reject(new Error('failed')))).rejects.toThrow(
			'failed'
		);
		expect(clock.wakesToCome).toBe(0);
	});

	it('ends in TimedOut at the limit and not before', async () => {
		const clock = watchedClock();
		let ended: unknown;
		within(clock, 1000, live().signal, never).catch((reason) => (ended = reason));
		clock.advanceTo(999);
		await settled();
		expect(ended).toBeUndefined();
		clock.advanceTo(1000);
		await settled();

		expect(ended).toBeInstanceOf(TimedOut);
		expect(ended).toMatchObject({ name: 'TimedOut', message: 'Nothing came within 1000 ms.' });
	});

	it('leaves no listener at the signal, however it ends', async () => {
		const clock = watchedClock();
		const { signal } = live();
		const added = vi.spyOn(signal, 'addEventListener');
		const removed = vi.spyOn(signal, 'removeEventListener');
		await within(clock, 1000, signal, Promise.resolve(7));
		const late = within(clock, 1000, signal, never);
		const waiting = pause(clock, 1000, signal);
		clock.advanceTo(1000);
		await expect(late).rejects.toBeInstanceOf(TimedOut);
		await waiting;

		expect(added).toHaveBeenCalledTimes(3);
		const still = added.mock.calls.filter(
			([event, listener]) =>
				!removed.mock.calls.some(([other, heard]) => other === event && heard === listener)
		);
		expect(still).toEqual([]);
	});

	it('ends with the reason when the signal aborts, or has aborted', async () => {
		const clock = watchedClock();
		const link = live();
		const before = within(clock, 1000, link.signal, never);
		link.abort('given back');
		const after = within(clock, 1000, link.signal, never);

		await expect(before).rejects.toBe('given back');
		await expect(after).rejects.toBe('given back');
		expect(clock.wakesToCome).toBe(0);
	});

	it('does not hear work that fails when nobody waits for it any more', async () => {
		const clock = watchedClock();
		let fail: (reason: Error) => void = () => {};
		const waiting = within(
			clock,
			1000,
			live().signal,
			new Promise((_, reject) => {
				fail = reject;
			})
		);
		clock.advanceTo(1000);
		fail(new Error('too late'));

		await expect(waiting).rejects.toBeInstanceOf(TimedOut);
	});
});

describe('a pause', () => {
	it('ends on time, or at once when the signal aborts or has aborted', async () => {
		const clock = watchedClock();
		const ended: string[] = [];
		const link = live();
		void pause(clock, 500, live().signal).then(() => ended.push('on time'));
		void pause(clock, 1000, link.signal).then(() => ended.push('aborted'));
		await settled();
		expect(ended).toEqual([]);
		link.abort();
		void pause(clock, 1000, link.signal).then(() => ended.push('had aborted'));
		await settled();
		expect(ended).toEqual(['aborted', 'had aborted']);
		clock.advanceTo(500);
		await settled();

		expect(ended).toEqual(['aborted', 'had aborted', 'on time']);
		expect(clock.wakesToCome).toBe(0);
	});
});
