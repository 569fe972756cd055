import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { bandsByMaximum, bandsByReserve, shareOfReserve, targetFromReserve } from '$lib/physiology/reserve';

const anyReserve = fc
	.tuple(fc.integer({ min: 30, max: 240 }), fc.integer({ min: 30, max: 240 }))
	.filter(([rest, max]) => rest < max);

describe('heart-rate reserve', () => {
	it('puts the published target range where it is printed', () => {
		// PMC9830234, table 3: maximum 190, rest 70, 40 to 59 % of reserve: 118 to 141 bpm.
		expect(targetFromReserve(0.4, 70, 190)).toBeCloseTo(118, 10);
		expect(Math.round(targetFromReserve(0.59, 70, 190)!)).toBe(141);
	});

	it('goes there and back', () => {
		fc.assert(
			fc.property(anyReserve, fc.double({ min: 0, max: 1, noNaN: true }), ([rest, max], share) => {
				const bpm = targetFromReserve(share, rest, max)!;
				expect(bpm).toBeGreaterThanOrEqual(rest);
				expect(bpm).toBeLessThanOrEqual(max + 1e-9);
				expect(shareOfReserve(Math.min(bpm, 240), rest, max)).toBeCloseTo(share, 9);
			})
		);
	});

	it('grows with the rate, below rest and above the maximum too', () => {
		expect([60, 70, 130, 190, 202].map((bpm) => shareOfReserve(bpm, 70, 190))).toEqual([
			-10 / 120,
			0,
			0.5,
			1,
			1.1
		]);
	});

	it('refuses gaps, impossible rates and a rest that is no less than the maximum', () => {
		const refused = [
			shareOfReserve(NaN, 70, 190),
			shareOfReserve(150, 190, 190),
			shareOfReserve(150, 20, 190),
			shareOfReserve(150, 70, 250),
			targetFromReserve(1.01, 70, 190),
			targetFromReserve(-0.01, 70, 190),
			targetFromReserve(NaN, 70, 190),
			targetFromReserve(0.5, 190, 70),
			bandsByReserve(190, 70),
			bandsByMaximum(NaN)
		];
		expect(refused).toEqual(refused.map(() => undefined));
	});
});

describe('the reference bands', () => {
	const rounded = (bands: { name: string; lowBpm: number; highBpm: number }[] | undefined) =>
		bands?.map(({ name, lowBpm, highBpm }) => [name, Math.round(lowBpm), Math.round(highBpm)]);

	it('stand where they are printed', () => {
		// Moderate: PMC9830234, table 3 (118 to 141 by reserve, 122 to 144 by maximum). The others computed from
		// Garber et al., Med Sci Sports Exerc 2011;43:1334-59: 60-89 and 90 % of reserve, 77-95 and 96 % of maximum.
		expect(rounded(bandsByReserve(70, 190))).toEqual([
			['moderate', 118, 141],
			['vigorous', 142, 177],
			['near maximal', 178, 190]
		]);
		expect(rounded(bandsByMaximum(190))).toEqual([
			['moderate', 122, 144],
			['vigorous', 146, 181],
			['near maximal', 182, 190]
		]);
	});

	it('follow one another upwards to the maximum', () => {
		fc.assert(
			fc.property(anyReserve, ([rest, max]) => {
				for (const bands of [bandsByReserve(rest, max)!, bandsByMaximum(max)!]) {
					const edges = bands.flatMap(({ lowBpm, highBpm }) => [lowBpm, highBpm]);
					expect(edges).toEqual(edges.toSorted((a, b) => a - b));
					expect(edges.at(-1)).toBe(max);
				}
			})
		);
	});
});
