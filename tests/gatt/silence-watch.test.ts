import { describe, expect, it } from 'vitest';
import { watchForSilence } from '$lib/gatt/silence-watch';
import { lateClock, watchedClock } from './strap-bench';

/** A watch on a connection made at second 100, and since when it says that the link has been silent. */
function watching(lateMs = () => 0) {
	const clock = watchedClock(100_000);
	const link = new AbortController();
	const silentSince: number[] = [];
	const watch = watchForSilence(lateClock(clock, lateMs), link.signal, (ms) => silentSince.push(ms));
	return { clock, link, watch, silentSince };
}

describe('a watch for silence', () => {
	it('waits twenty seconds for the first packet, to the millisecond, and speaks once', () => {
		const { clock, silentSince } = watching();
		clock.advanceTo(119_999);
		expect(silentSince).toEqual([]);
		clock.advanceTo(120_000);
		expect(silentSince).toEqual([100_000]);
		clock.advanceTo(200_000);
		expect(silentSince).toEqual([100_000]);
		expect(clock.wakesToCome).toBe(0);
	});

	it('waits ten seconds after each packet', () => {
		const { clock, watch, silentSince } = watching();
		for (const ms of [101_000, 108_000, 109_500, 118_000]) {
			clock.advanceTo(ms);
			watch.heard(ms);
		}
		clock.advanceTo(127_999);
		expect(silentSince).toEqual([]);
		clock.advanceTo(128_000);
		expect(silentSince).toEqual([118_000]);
	});

	it('needs one wake at a time, and none once its connection is given up', () => {
		const { clock, link, watch, silentSince } = watching();
		expect(clock.wakesToCome).toBe(1);
		watch.heard(104_000);
		clock.advanceTo(112_000);
		expect(clock.wakesToCome).toBe(1);
		link.abort();
		expect(clock.wakesToCome).toBe(0);
		clock.advanceTo(200_000);
		expect(silentSince).toEqual([]);
	});

	it('takes a wake a second late for none that came late', () => {
		const { clock, watch, silentSince } = watching(() => 1000);
		watch.heard(100_000);
		clock.advanceTo(111_000);
		expect(silentSince).toEqual([100_000]);
	});

	it('gives the packets behind a later wake two seconds, once in each silence', () => {
		let lateMs = 1001;
		const { clock, watch, silentSince } = watching(() => lateMs);
		watch.heard(100_000);
		lateMs = 0;
		clock.advanceTo(113_000);
		expect(silentSince).toEqual([]);
		// They come, and the watch goes on from there.
		watch.heard(113_000);
		lateMs = 1500;
		clock.advanceTo(124_500);
		expect(silentSince, 'another silence, another two seconds').toEqual([]);
		clock.advanceTo(128_000);
		expect(silentSince).toEqual([113_000]);
	});
});
