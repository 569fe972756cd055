import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { landingGeometry, tracePath } from '$lib/charts/landing-geometry';

const box = { left: 10, right: 610, top: 20, bottom: 410 };

describe('landingGeometry', () => {
	it('lays the edges of the strip exactly 40 and 60 beats below the bell rate (common practice, no source)', () => {
		fc.assert(
			fc.property(
				fc.integer({ min: 90, max: 210 }),
				fc.array(fc.option(fc.integer({ min: 40, max: 220 }), { nil: null }), { maxLength: 60 }),
				(bellBpm, rates) => {
					const { strip, bellY, yOf } = landingGeometry(
						bellBpm,
						rates.map((bpm, s) => ({ s, bpm })),
						box
					);
					const perBeat = yOf(0) - yOf(1);
					expect((strip.top - bellY) / perBeat).toBeCloseTo(40, 6);
					expect((strip.bottom - bellY) / perBeat).toBeCloseTo(60, 6);
				}
			)
		);
	});

	it('shows 10 beats above the bell rate and 68 below while nothing goes beyond', () => {
		const { yOf } = landingGeometry(172, [{ s: 0, bpm: 172 }], box);
		expect(yOf(182)).toBeCloseTo(20);
		expect(yOf(104)).toBeCloseTo(410);
	});

	it('makes room for a heart that climbs after the bell and for one that falls below the strip', () => {
		const points = [
			{ s: 4, bpm: 190 },
			{ s: 59, bpm: 95 }
		];
		const { yOf } = landingGeometry(172, points, box);
		expect(yOf(190)).toBeGreaterThan(box.top);
		expect(yOf(95)).toBeLessThan(box.bottom);
	});

	it('runs from the bell at the left to second 60 at the right, where the strip ends', () => {
		const { xOf, strip } = landingGeometry(172, [{ s: 20, bpm: 160 }], box);
		expect([xOf(0), xOf(30), xOf(60)]).toEqual([10, 310, 610]);
		expect(strip.right).toBe(610);
	});

	it('gives a longer rest room on the right and leaves the strip at second 60', () => {
		const { endS, strip } = landingGeometry(172, [{ s: 120, bpm: 110 }], box);
		expect(endS).toBe(120);
		expect(strip.right).toBe(310);
	});
});

describe('tracePath', () => {
	it('lifts the pen at a second without a reading and shows a lone second as a dot', () => {
		const geometry = landingGeometry(150, [], { left: 0, right: 600, top: 0, bottom: 780 });
		const points = [
			{ s: 0, bpm: 150 },
			{ s: 1, bpm: 150 },
			{ s: 2, bpm: null },
			{ s: 3, bpm: 140 }
		];
		expect(tracePath(points, geometry)).toBe('M0.0 100.0L0.0 100.0L10.0 100.0M30.0 200.0L30.0 200.0');
	});
});
