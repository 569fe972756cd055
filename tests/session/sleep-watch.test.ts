import { describe, expect, it } from 'vitest';
import { SleepWatch, type Leap } from '$lib/session/sleep-watch';

// The rules under test are those of the design: packets less than 3 s apart on both sides of a leap mean a clock
// change, anything else was sleep.

const minute = 60_000;
const wallMs = Date.parse('2026-03-02T18:00:00.000Z');

/** Plays signs written as [by, monotonic ms, wall ms ahead of where it would stand]; answers what was found. */
function play(signs: ['packet' | 'wake', number, number?][]) {
	const watch = new SleepWatch();
	const found: { atMs: number; leap: Leap }[] = [];
	for (const [by, monotonicMs, aheadMs = 0] of signs) {
		const leap = watch.see({
			by,
			monotonicMs,
			wallMs: wallMs + monotonicMs + aheadMs,
			elapsedMs: monotonicMs - 1000
		});
		if (leap) found.push({ atMs: monotonicMs, leap });
	}
	return found;
}

describe('sleep and clock changes', () => {
	it('finds nothing where both clocks go on, packets or not', () => {
		expect(
			play([
				['packet', 0],
				['wake', 500],
				['packet', 1000],
				['wake', 30_000],
				['wake', 90_000, 4000],
				['packet', 91_000, 4000]
			])
		).toEqual([]);
	});

	it('is not alarmed by a hidden page that is woken once a minute', () => {
		expect(play(Array.from({ length: 10 }, (_, i) => ['wake', i * 61_000]))).toEqual([]);
	});

	it.each([
		['ahead by an hour', 60 * minute],
		['back by an hour', -60 * minute],
		['ahead by ten seconds', 10_000]
	])('knows a clock set %s by the packets around the leap', (_, aheadMs) => {
		expect(
			play([
				['packet', 0],
				['wake', 900],
				['wake', 1900, aheadMs],
				['packet', 2900, aheadMs],
				['wake', 3900, aheadMs],
				['wake', 9000, aheadMs]
			]).map(({ leap }) => leap)
		).toEqual([{ kind: 'clock change' }]);
	});

	it('knows sleep on a clock that stood still once no packet has come for 3 s', () => {
		const found = play([
			['packet', 0],
			['wake', 1000],
			['wake', 2000, 10 * minute],
			['wake', 2900, 10 * minute],
			['wake', 3000, 10 * minute],
			['packet', 4000, 10 * minute]
		]);
		expect(found).toMatchObject([
			{
				atMs: 3000,
				leap: {
					kind: 'slept',
					before: { monotonicMs: 1000, elapsedMs: 0 },
					lengthMs: 10 * minute,
					missingMs: 10 * minute
				}
			}
		]);
	});

	it('takes a packet 3 s after the last one for the end of a sleep, one a moment sooner for a clock change', () => {
		const kinds = (packetMs: number) =>
			play([
				['packet', 0],
				['packet', packetMs, minute]
			]).map(({ leap }) => leap.kind);
		expect(kinds(2999)).toEqual(['clock change']);
		expect(kinds(3000)).toEqual(['slept']);
	});

	it('knows it at once where there was no packet before the leap', () => {
		expect(
			play([
				['wake', 0],
				['wake', 1000, 5 * minute]
			])
		).toMatchObject([{ atMs: 1000, leap: { kind: 'slept', lengthMs: 5 * minute } }]);
	});

	it('knows sleep on a clock that went on by the want of any sign, and misses no time then', () => {
		expect(
			play([
				['packet', 0],
				['wake', 400],
				['packet', 400 + 10 * minute]
			])
		).toMatchObject([
			{ leap: { kind: 'slept', before: { monotonicMs: 400 }, lengthMs: 10 * minute, missingMs: 0 } }
		]);
	});

	it('adds up a clock that went on for a part of the sleep only', () => {
		expect(
			play([
				['packet', 0],
				['wake', 2 * minute, 8 * minute]
			])
		).toMatchObject([{ leap: { lengthMs: 10 * minute, missingMs: 8 * minute } }]);
	});

	it('adds up two naps with no packet between, and forgets a leap that is taken back', () => {
		expect(
			play([
				['packet', 0],
				['wake', 500, minute],
				['wake', 1000, 3 * minute],
				['wake', 3500, 3 * minute]
			])
		).toMatchObject([{ leap: { before: { monotonicMs: 0 }, missingMs: 3 * minute } }]);
		expect(
			play([
				['packet', 0],
				['wake', 500, minute],
				['wake', 1000, 0],
				['wake', 3500, 0]
			]).map(({ leap }) => leap.kind)
		).toEqual(['clock change']);
	});
});
