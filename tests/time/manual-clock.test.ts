import { describe, expect, it } from 'vitest';
import { manualClock } from '$lib/time/manual-clock';

describe('the manual clock', () => {
	it('stands still until it is moved, and never goes back', () => {
		const clock = manualClock(500);
		expect(clock.nowMs()).toBe(500);
		clock.advanceTo(800);
		clock.advanceTo(600);

		expect(clock.nowMs()).toBe(800);
	});

	it('wakes everybody due in the order of their times, each at its own moment', () => {
		const clock = manualClock();
		const woken: [string, number][] = [];
		clock.wakeAt(300, () => woken.push(['late', clock.nowMs()]));
		clock.wakeAt(100, () => woken.push(['early', clock.nowMs()]));
		clock.wakeAt(100, () => woken.push(['early, asked second', clock.nowMs()]));
		clock.wakeAt(301, () => woken.push(['not yet', clock.nowMs()]));
		clock.advanceTo(300);

		expect(woken).toEqual([
			['early', 100],
			['early, asked second', 100],
			['late', 300]
		]);
	});

	it('wakes once', () => {
		const clock = manualClock();
		let wakes = 0;
		clock.wakeAt(100, () => wakes++);
		clock.advanceTo(100);
		clock.advanceTo(1000);

		expect(wakes).toBe(1);
	});

	it('wakes for a time that is past as soon as it is moved, without going back to it', () => {
		const clock = manualClock(1000);
		const woken: number[] = [];
		clock.wakeAt(200, () => woken.push(clock.nowMs()));
		expect(woken).toEqual([]);
		clock.advanceTo(1000);

		expect(woken).toEqual([1000]);
	});

	it('comes to wakes that were asked for on the way', () => {
		const clock = manualClock();
		const woken: number[] = [];
		const tick = (): void => {
			woken.push(clock.nowMs());
			clock.wakeAt(clock.nowMs() + 250, tick);
		};
		clock.wakeAt(250, tick);
		clock.advanceTo(1100);

		expect(woken).toEqual([250, 500, 750, 1000]);
		expect(clock.nowMs()).toBe(1100);
	});

	it('lets a wake be taken back, by another wake too', () => {
		const clock = manualClock();
		const woken: string[] = [];
		const cancelSecond = clock.wakeAt(200, () => woken.push('second'));
		clock.wakeAt(100, () => {
			woken.push('first');
			cancelSecond();
		});
		clock.wakeAt(50, () => woken.push('taken back'))();
		clock.advanceTo(500);

		expect(woken).toEqual(['first']);
	});
});
