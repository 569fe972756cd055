import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import {
	artefactShareOf,
	cleanIntervals,
	intervalsOf,
	type Interval,
	type RrReading
} from '$lib/physiology/rr-intervals';
import type { Reading } from '$lib/record/columns';
import { numbersIn } from './builders';

/** Intervals that arrive as they end. */
const beats = (rrMs: readonly number[], fromMs = 0): Interval[] => {
	let ms = fromMs;
	return rrMs.map((rr) => ({ ms: (ms += rr), rrMs: rr }));
};
const runsOf = (rrMs: readonly number[]) => cleanIntervals([beats(rrMs)]).runs;
const rrOf = (stretches: Interval[][]) => stretches.map((stretch) => stretch.map(({ rrMs }) => rrMs));

/** A packet each second from one second on, with one interval of 1000 ms. */
const steadily = (count: number, fromMs = 1000): RrReading[] =>
	Array.from({ length: count }, (_, i) => ({ ms: fromMs + 1000 * i, rrMs: [1000] }));

describe('intervalsOf', () => {
	it('takes the readings a session keeps, oldest interval of each packet first', () => {
		const readings: Reading[] = [
			{ ms: 1000, bpm: 150, contact: 'contact', rrMs: [400, 410] },
			{ ms: 2000, bpm: 150, contact: 'contact', rrMs: [] },
			{ ms: 3000, bpm: 150, contact: 'contact', rrMs: [405, 395, 390, 400] }
		];
		expect(intervalsOf(readings)).toEqual([
			[400, 410, 405, 395, 390, 400].map((rrMs, i) => ({ ms: i < 2 ? 1000 : 3000, rrMs }))
		]);
	});

	it('cuts at a gap and leaves out what arrives inside it', () => {
		const stretches = intervalsOf(steadily(6), [{ fromMs: 2500, toMs: 4500 }]);
		expect(stretches.map((stretch) => stretch.map(({ ms }) => ms))).toEqual([
			[1000, 2000],
			[5000, 6000]
		]);
	});

	it('cuts at a gap without length, at overlapping ones in any order, and at one without end', () => {
		expect(rrOf(intervalsOf(steadily(4), [{ fromMs: 2000, toMs: 2000 }]))).toEqual([
			[1000],
			[1000, 1000, 1000]
		]);
		const overlapping = [
			{ fromMs: 2200, toMs: 2300 },
			{ fromMs: 1500, toMs: 4500 }
		];
		expect(intervalsOf(steadily(6), overlapping).map((stretch) => stretch.length)).toEqual([1, 2]);
		expect(rrOf(intervalsOf(steadily(4), [{ fromMs: 2500, toMs: Infinity }]))).toEqual([[1000, 1000]]);
	});

	it('cuts at a packet without contact and leaves its intervals out', () => {
		const readings = steadily(5);
		readings[2] = { ...readings[2]!, contact: 'no contact' };
		expect(rrOf(intervalsOf(readings))).toEqual([
			[1000, 1000],
			[1000, 1000]
		]);
	});

	it('cuts where packets go on arriving but their intervals stay away', () => {
		const readings = steadily(10).map((reading, i) => (i > 3 && i < 7 ? { ...reading, rrMs: [] } : reading));
		expect(intervalsOf(readings).map((stretch) => stretch.length)).toEqual([4, 3]);
		// Intervals that never came make no gap one at a time, but their time adds up.
		const thinned = steadily(40).map((reading, i) => (i % 10 === 9 ? { ...reading, rrMs: [] } : reading));
		expect(intervalsOf(thinned)).toHaveLength(2);
	});

	it('bears with 2 s between the intervals and their arrival, either way, and no more', () => {
		const late = (ms: number) => intervalsOf([...steadily(2), { ms, rrMs: [1000] }]).length;
		expect([999, 1000, 5000, 5001].map(late)).toEqual([2, 1, 1, 2]);
	});

	it('counts the intervals of a doubled packet once, and those of equal beats each time', () => {
		const sent = [
			{ ms: 1000, rrMs: [800, 812] },
			{ ms: 1003, rrMs: [800, 812] },
			{ ms: 2600, rrMs: [800, 812] },
			{ ms: 3400, rrMs: [790] },
			{ ms: 4190, rrMs: [790] },
			{ ms: 4195, rrMs: [790] }
		];
		expect(intervalsOf(sent).map((stretch) => stretch.map(({ rrMs }) => rrMs))).toEqual([
			[800, 812, 800, 812, 790, 790]
		]);
		// A burst after a stall brings different beats at once: all of them count.
		const burst = [800, 810, 805].map((rr) => ({ ms: 5000, rrMs: [rr] }));
		expect(intervalsOf(burst)[0]).toHaveLength(3);
	});

	it('does not cut for a slow heart whose beats fall into every other packet', () => {
		let beatMs = 0;
		const readings: RrReading[] = Array.from({ length: 300 }, (_, i) => {
			const rrMs: number[] = [];
			for (; beatMs + 1700 <= 1000 * (i + 1); beatMs += 1700) rrMs.push(1700);
			return { ms: 1000 * (i + 1) + 800 * (i % 2), rrMs };
		});
		expect(intervalsOf(readings)).toHaveLength(1);
	});
});

describe('cleanIntervals', () => {
	const calm = [800, 812, 805, 798, 790, 801, 809, 795, 803, 811, 806, 797];
	const faultsOf = (rrMs: number[]) =>
		cleanIntervals([beats(rrMs)]).intervals.flatMap(({ fault }, i) => (fault ? [[i, fault]] : []));

	it('leaves a calm series as it is', () => {
		expect(cleanIntervals([beats(calm)])).toMatchObject({ runs: [calm], artefactShare: 0 });
	});

	it('splits the interval of a missed beat in two', () => {
		const series = calm.toSpliced(5, 2, calm[5]! + calm[6]!);
		expect(faultsOf(series)).toEqual([[5, 'missed']]);
		const half = (calm[5]! + calm[6]!) / 2;
		expect(runsOf(series)).toEqual([calm.with(5, half).with(6, half)]);
	});

	it('joins an extra beat with the interval that it cut short', () => {
		const series = calm.toSpliced(5, 1, 300, calm[5]! - 300);
		expect(faultsOf(series)).toEqual([[5, 'extra']]);
		expect(runsOf(series)).toEqual([calm]);
	});

	it('fills the two intervals of a beat that came early on a straight line', () => {
		const series = calm.with(5, calm[5]! - 250).with(6, calm[6]! + 250);
		expect(faultsOf(series).map(([i]) => i)).toEqual([5, 6]);
		const [before, after] = [calm[4]!, calm[7]!];
		const third = (after - before) / 3;
		const [run] = runsOf(series);
		expect(run!.slice(0, 5)).toEqual(calm.slice(0, 5));
		expect(run![5]).toBeCloseTo(before + third, 9);
		expect(run![6]).toBeCloseTo(before + 2 * third, 9);
		expect(run!.slice(7)).toEqual(calm.slice(7));
	});

	it('fills in up to three beats that were lost at once, and cuts where there are more', () => {
		const lost = (count: number) =>
			runsOf([...calm.slice(0, 6), 800 * count, ...calm.slice(6)]).map((run) => run.length);
		expect([lost(3), lost(4)]).toEqual([[15], [6, 6]]);
	});

	// Own rule: the usual lower limit of 300 ms would refuse a youth's 205 bpm.
	it('keeps 240 to 2000 ms and nothing beyond', () => {
		expect(runsOf([240])).toEqual([[240]]);
		expect(runsOf([2000])).toEqual([[2000]]);
		expect(runsOf([239])).toEqual([]);
		expect(runsOf([2001])).toEqual([]);
		expect(runsOf([NaN, 0, -0, Infinity])).toEqual([]);
		expect(faultsOf([239])).toEqual([[0, 'impossible']]);
		// Joined they would be no interval of a heart either.
		expect(runsOf([450, 2001, 65_535])).toEqual([]);
	});

	it('leaves out a bad beat at either end, where nothing tells what it should be', () => {
		expect(runsOf([500, ...calm])).toEqual([calm]);
		expect(runsOf([...calm, 500])).toEqual([calm]);
	});

	it('follows a heart whose rate changes for good', () => {
		const series = [...calm, ...calm.map((rr) => rr - 300)];
		expect(runsOf(series)).toEqual([series]);
	});

	it.each([
		['one beat', [800], [[800]]],
		['two that differ by a fifth', [1000, 1201], [[1000, 1201]]],
		['a missed beat among three', [800, 1600, 810], [[800, 800, 800, 810]]],
		[
			'deep breathing over seven',
			[700, 900, 1100, 900, 700, 900, 1100],
			[[700, 900, 1100, 900, 700, 900, 1100]]
		]
	])('judges a few beats by how far they lie apart: %s', (_, series, runs) => {
		expect(runsOf(series)).toEqual(runs);
	});

	it('judges each stretch by itself', () => {
		const clean = cleanIntervals([
			beats(calm),
			beats(
				calm.map((rr) => rr / 2),
				60_000
			)
		]);
		expect(clean.runs).toEqual([calm, calm.map((rr) => rr / 2)]);
		expect(clean.corrected.map(({ startsAnew }) => startsAnew).lastIndexOf(true)).toBe(calm.length);
	});

	it('counts the share of bad beats, an extra one once', () => {
		expect(cleanIntervals([beats(calm.toSpliced(5, 1, 300, calm[5]! - 300))]).artefactShare).toBe(1 / 13);
		expect(cleanIntervals([]).artefactShare).toBeUndefined();
		expect(artefactShareOf([])).toBeUndefined();
	});

	const anyRr = fc.oneof(
		{ weight: 8, arbitrary: fc.integer({ min: 450, max: 550 }) },
		{ weight: 2, arbitrary: fc.integer({ min: 1, max: 3000 }) },
		{ weight: 1, arbitrary: fc.constantFrom(NaN, Infinity, 0, 65_535) }
	);
	const anyStretches = fc.array(fc.array(anyRr, { maxLength: 40 }), { maxLength: 6 });

	it('accounts for every interval, and no number in its runs is none', () => {
		fc.assert(
			fc.property(anyStretches, (lists) => {
				const clean = cleanIntervals(lists.map((list) => beats(list)));
				expect(clean.intervals.map((each) => each.rrMs)).toEqual(lists.flat());
				expect(clean.runs.flat()).toEqual(clean.corrected.map((each) => each.rrMs));
				expect(numbersIn(clean.runs).every((rrMs) => rrMs >= 240 && rrMs <= 2000)).toBe(true);
				const sent = new Set(lists.flat());
				expect(clean.corrected.every((each) => each.isCorrected || sent.has(each.rrMs))).toBe(true);
				// At most three beats for each that was sent.
				expect(clean.corrected.length).toBeLessThanOrEqual(3 * clean.intervals.length);
			})
		);
	});

	it('marks the same however much later everything happens', () => {
		fc.assert(
			fc.property(anyStretches, fc.integer({ min: -1e6, max: 1e7 }), (lists, byMs) => {
				const later = cleanIntervals(lists.map((list) => beats(list, byMs)));
				expect(later.runs).toEqual(cleanIntervals(lists.map((list) => beats(list))).runs);
			})
		);
	});

	it('never joins across a gap, whatever lies on either side', () => {
		fc.assert(
			fc.property(fc.array(anyRr, { maxLength: 40 }), fc.array(anyRr, { maxLength: 40 }), (before, after) => {
				const apart = cleanIntervals([beats(before), beats(after)]).runs;
				expect(apart).toEqual([...runsOf(before), ...runsOf(after)]);
			})
		);
	});
});
