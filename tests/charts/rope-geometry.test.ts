import { describe, expect, it } from 'vitest';
import { ropeGeometry } from '$lib/charts/rope-geometry';

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
