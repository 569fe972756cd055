import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { AimCounter, rangeOfBand, rangeOfShare, sideOf } from '$lib/physiology/aim';
import { bandOf, type IntensityBand } from '$lib/physiology/intensity';

const round = { pauses: [] as { startS: number; endS: number }[] };

describe('the rates of an aim', () => {
	it('are those of its band, to the last fraction of a beat', () => {
		const bands = ['easy', 'working', 'near threshold', 'over threshold'] as const;
		const bpms = fc.oneof(fc.integer({ min: 30, max: 240 }), fc.double({ min: 30, max: 240, noNaN: true }));
		fc.assert(
			fc.property(bpms, fc.integer({ min: 1200, max: 2200 }), (bpm, tenths) => {
				const thresholdBpm = tenths / 10;
				const found = bands.filter((band) => sideOf(bpm, rangeOfBand(band, thresholdBpm)) === 'in');
				expect(found).toEqual([bandOf(bpm, thresholdBpm)]);
			})
		);
	});

	// 80 and 90 % of 170 are 136 and 153: a rate that two bands meet at belongs to one of them.
	it.each([
		[136, 'easy', 'above'],
		[136, 'working', 'in'],
		[153, 'working', 'above'],
		[153, 'near threshold', 'in'],
		[170, 'near threshold', 'in'],
		[170, 'over threshold', 'below']
	] as const)('at an edge: %s is, of %s at a threshold of 170, %s', (bpm, band, side) => {
		expect(sideOf(bpm, rangeOfBand(band, 170))).toBe(side);
	});

	// 80 and 90 % of 190 are 152 and 171.
	it.each([
		[151, 'below'],
		[152, 'in'],
		[171, 'in'],
		[172, 'above'],
		[NaN, undefined]
	])('of a share of the maximum have both ends in them: %s is %s', (bpm, side) => {
		expect(sideOf(bpm, rangeOfShare(80, 90, 190))).toBe(side);
	});
});

describe('time in aim', () => {
	const timeOf = (bpms: readonly number[], band: IntensityBand = 'near threshold', pauses = round.pauses) => {
		const counter = new AimCounter(rangeOfBand(band, 170));
		bpms.forEach((bpm, s) => counter.take(bpm, s, { pauses }));
		return counter.time;
	};
	const seconds = (count: number, bpm: number) => Array<number>(count).fill(bpm);

	it('begins after 30 s of work, since the heart lags and climbs first', () => {
		expect(timeOf(seconds(30, 160))).toEqual({ inS: 0, belowS: 0, aboveS: 0, unknownS: 0 });
		expect(timeOf(seconds(31, 160))).toEqual({ inS: 1, belowS: 0, aboveS: 0, unknownS: 0 });
	});

	it('counted by hand: 30 s of climbing, 4 in it, 3 under, 2 over, 1 gap, and the edges at 153 and 170 are in', () => {
		const trace = [...seconds(30, 120), 153, 160, 170, 165, 152, 100, 140, 171, 190, NaN];
		expect(timeOf(trace)).toEqual({ inS: 4, belowS: 3, aboveS: 2, unknownS: 1 });
	});

	it('leaves pauses out, of the 30 s too', () => {
		const pauses = [{ startS: 10, endS: 20 }];
		expect(timeOf(seconds(45, 160), 'near threshold', pauses).inS).toBe(5);
		expect(timeOf(seconds(45, 160), 'near threshold', [{ startS: 10, endS: Infinity }]).inS).toBe(0);
		// Second 10 has its middle at 10.5, where this pause begins; second 20 at 20.5, where it has ended.
		expect(timeOf(seconds(45, 160), 'near threshold', [{ startS: 10.5, endS: 20.5 }]).inS).toBe(5);
	});

	it('goes on apart in a copy', () => {
		const counter = new AimCounter(rangeOfBand('easy', 170));
		for (let s = 0; s < 40; s++) counter.take(100, s, round);
		const copy = counter.copy();
		copy.take(100, 40, round);
		expect([counter.time.inS, copy.time.inS]).toEqual([10, 11]);
	});

	it('is as many seconds as there were of work, less those that are not judged', () => {
		const bpm = fc.oneof(fc.integer({ min: 60, max: 200 }), fc.constant(NaN));
		fc.assert(
			fc.property(fc.array(bpm, { maxLength: 120 }), (bpms) => {
				const { inS, belowS, aboveS, unknownS } = timeOf(bpms);
				expect(inS + belowS + aboveS + unknownS).toBe(Math.max(0, bpms.length - 30));
			})
		);
	});
});
