import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandOf, timeInBands } from '$lib/physiology/intensity';
import { anyGrid } from './builders';

describe('bandOf', () => {
	// Edges at 80, 90 and 100 % of the threshold are the page's own rule, no source: 136, 153 and 170 of 170.
	it.each([
		[135, 'easy'],
		[136, 'working'],
		[152, 'working'],
		[153, 'near the line'],
		[169, 'near the line'],
		[170, 'over the line'],
		[171, 'over the line']
	])('puts %s of 170 bpm into: %s', (bpm, band) => {
		expect(bandOf(bpm, 170)).toBe(band);
	});

	it('knows nothing of a gap or without a threshold', () => {
		expect([bandOf(NaN, 170), bandOf(150, NaN), bandOf(150, 0)]).toEqual([undefined, undefined, undefined]);
	});
});

describe('timeInBands', () => {
	it('counts each second once', () => {
		const grid = Float64Array.of(120, 140, 140, 160, 175, NaN);
		expect(timeInBands(grid, 0, 8, 170)).toEqual({
			easy: 1,
			working: 2,
			'near the line': 1,
			'over the line': 1,
			unknown: 3
		});
	});

	it('adds up to the window', () => {
		fc.assert(
			fc.property(anyGrid(0, 60), fc.integer({ min: 0, max: 80 }), (grid, toS) => {
				const time = timeInBands(grid, 0, toS, 165.5);
				expect(Object.values(time).reduce((sum, s) => sum + s, 0)).toBe(toS);
			})
		);
	});
});
