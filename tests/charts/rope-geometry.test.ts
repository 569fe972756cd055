import { describe, expect, it } from 'vitest';
import { isSameRope, ropeGeometry } from '$lib/charts/rope-geometry';
import type { RopeRound } from '$lib/session/rope';

describe('ropeGeometry', () => {
	it('hangs a drop in proportion to its beats, with the band at 40 and 60', () => {
		const { yOf, ropeY, bandTop, bandBottom } = ropeGeometry(3, 600, 160);
		const perBeat = (yOf(70) - ropeY) / 70;
		expect((bandTop - ropeY) / perBeat).toBeCloseTo(40);
		expect((bandBottom - ropeY) / perBeat).toBeCloseTo(60);
		expect((yOf(25) - ropeY) / perBeat).toBeCloseTo(25);
	});

	it('ends a rise at the rope and a very long drop inside the picture', () => {
		const { yOf, ropeY } = ropeGeometry(3, 600, 160);
		expect(yOf(-8)).toBe(ropeY);
		expect(yOf(95)).toBe(yOf(70));
		expect(yOf(95)).toBeLessThan(160);
	});

	it('fits sixty rounds into the width of a telephone', () => {
		const { xOf } = ropeGeometry(60, 360, 120);
		expect(xOf(59)).toBeLessThan(360);
	});
});

describe('isSameRope', () => {
	const rope: RopeRound[] = [
		{ round: 1, state: 'done', drop60: 44, judged: 'in' },
		{ round: 2, state: 'now' }
	];

	it('knows a rope told anew from one that has changed in any way', () => {
		expect(isSameRope(structuredClone(rope), rope)).toBe(true);
		const others: RopeRound[][] = [
			rope.slice(0, 1),
			[...rope, { round: 3, state: 'to come' }],
			[rope[0]!, { round: 2, state: 'resting' }],
			[rope[0]!, { round: 3, state: 'now' }],
			[{ ...rope[0]!, drop60: 45 }, rope[1]!],
			[{ ...rope[0]!, judged: 'not judged' }, rope[1]!]
		];
		for (const other of others) {
			expect(isSameRope(other, rope)).toBe(false);
			expect(isSameRope(rope, other)).toBe(false);
		}
	});
});
