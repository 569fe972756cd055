import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { BandCounter, bandOf, timeInBands } from '$lib/physiology/intensity';
import { OverThresholdCounter } from '$lib/physiology/over-threshold';
import { overThreshold } from '$lib/physiology/threshold';
import { anyGrid, anyRound } from './builders';

describe('bandOf', () => {
	// Edges at 80, 90 and 100 % of the threshold are the page's own rule, no source: 136, 153 and 170 of 170.
	it.each([
		[135, 'easy'],
		[136, 'working'],
		[152, 'working'],
		[153, 'near threshold'],
		[170, 'near threshold'],
		[171, 'over threshold']
	])('puts %s of 170 bpm into: %s', (bpm, band) => {
		expect(bandOf(bpm, 170)).toBe(band);
	});

	it('knows nothing of a gap or without a threshold', () => {
		expect([bandOf(NaN, 170), bandOf(150, NaN), bandOf(150, 0)]).toEqual([undefined, undefined, undefined]);
	});
});

describe('timeInBands', () => {
	const wholeRound = { startS: 0, endS: 60, plannedEndS: 60 };

	it('counts each second of work once', () => {
		const seconds = new Float64Array(60).fill(120);
		seconds.set([140, 140, 160, 175, 175, 175, NaN], 10);
		expect(timeInBands([{ seconds, round: wholeRound }], 170)).toEqual({
			easy: 53,
			working: 2,
			'near threshold': 1,
			'over threshold': 3,
			'closing burst': 0,
			unknown: 1
		});
	});

	it('holds seconds above the threshold that are in no counted spell near it', () => {
		const seconds = new Float64Array(60).fill(120);
		seconds.set([175, 175, 120, 170, 170, 170], 10);
		expect(timeInBands([{ seconds, round: wholeRound }], 170)).toMatchObject({
			'near threshold': 5,
			'over threshold': 0
		});
	});

	it('keeps the closing burst apart', () => {
		const seconds = new Float64Array(60).fill(120).fill(175, 45);
		expect(timeInBands([{ seconds, round: wholeRound }], 170)).toMatchObject({
			easy: 45,
			'near threshold': 0,
			'over threshold': 5,
			'closing burst': 10
		});
	});

	it('agrees to the second with the rows of the rounds, and adds up to the work', () => {
		fc.assert(
			fc.property(fc.array(fc.tuple(anyGrid(0, 150), anyRound), { maxLength: 4 }), (grids) => {
				const work = grids.map(([seconds, round]) => ({ seconds, round }));
				const time = timeInBands(work, 169.5);
				const rows = work.flatMap(({ seconds, round }) => overThreshold(seconds, [round], 169.5));
				const sum = (of: (row: (typeof rows)[number]) => number) =>
					rows.reduce((total, row) => total + of(row), 0);
				expect(time['over threshold']).toBe(sum(({ overS }) => overS));
				expect(time['closing burst']).toBe(sum(({ burstOverS }) => burstOverS));
				expect(Object.values(time).reduce((total, s) => total + s, 0)).toBe(sum(({ workS }) => workS));
				expect(Math.min(...Object.values(time))).toBeGreaterThanOrEqual(0);
			})
		);
	});
});

describe('BandCounter', () => {
	it('fed live has at every moment the bands of what was boxed so far', () => {
		fc.assert(
			fc.property(anyGrid(1, 80), fc.integer({ min: 0, max: 80 }), (seconds, plannedEndS) => {
				const over = new OverThresholdCounter(169.5, plannedEndS);
				const counter = new BandCounter(169.5);
				seconds.forEach((bpm, i) => {
					over.push(bpm, i);
					counter.push(bpm);
					const round = { startS: 0, endS: i + 1, plannedEndS };
					expect(counter.copy().bands(over.row)).toEqual(timeInBands([{ seconds, round }], 169.5));
				});
			})
		);
	});
});
