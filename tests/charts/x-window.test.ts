import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { clockTicks, pan, zoom } from '$lib/charts/x-window';

const whole = { fromS: 0, toS: 1200 };

describe('zoom', () => {
	it('keeps the second under the pointer where it is', () => {
		expect(zoom(whole, 0.5, 300, whole)).toEqual({ fromS: 150, toS: 750 });
	});

	it('comes no closer than twenty seconds', () => {
		const shown = zoom(whole, 0.0001, 600, whole);
		expect(shown.toS - shown.fromS).toBeCloseTo(20);
	});

	it('goes back to the whole session and no further', () => {
		expect(zoom({ fromS: 1000, toS: 1100 }, 50, 1050, whole)).toEqual(whole);
	});

	it('shows a session shorter than the closest view whole', () => {
		expect(zoom({ fromS: 0, toS: 12 }, 0.5, 6, { fromS: 0, toS: 12 })).toEqual({ fromS: 0, toS: 12 });
	});
});

describe('pan', () => {
	it('moves along', () => {
		expect(pan({ fromS: 100, toS: 200 }, 50, whole)).toEqual({ fromS: 150, toS: 250 });
	});

	it('stops at either end with its width kept', () => {
		expect(pan({ fromS: 100, toS: 200 }, -500, whole)).toEqual({ fromS: 0, toS: 100 });
		expect(pan({ fromS: 100, toS: 200 }, 5000, whole)).toEqual({ fromS: 1100, toS: 1200 });
	});
});

it('stays within the session whatever is turned and pushed', () => {
	const move = fc.record({
		factor: fc.double({ min: 0.1, max: 10, noNaN: true }),
		aroundShare: fc.double({ min: 0, max: 1, noNaN: true }),
		byS: fc.double({ min: -2000, max: 2000, noNaN: true })
	});
	fc.assert(
		fc.property(fc.array(move, { maxLength: 20 }), (moves) => {
			let shown = whole;
			for (const { factor, aroundShare, byS } of moves) {
				const aroundS = shown.fromS + aroundShare * (shown.toS - shown.fromS);
				shown = pan(zoom(shown, factor, aroundS, whole), byS, whole);
			}
			expect(shown.fromS).toBeGreaterThanOrEqual(0);
			expect(shown.toS).toBeLessThanOrEqual(1200 + 1e-9);
			expect(shown.toS - shown.fromS).toBeGreaterThanOrEqual(20 - 1e-9);
		})
	);
});

describe('clockTicks', () => {
	it('counts in steps a stopwatch reader knows', () => {
		expect(clockTicks({ fromS: 0, toS: 600 }, 6)).toEqual([0, 120, 240, 360, 480, 600]);
		expect(clockTicks({ fromS: 97, toS: 131 }, 4)).toEqual([100, 110, 120, 130]);
	});
});
