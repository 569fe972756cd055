import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { spreadLabels } from '$lib/charts/spread-labels';

describe('spreadLabels', () => {
	it('leaves labels alone that do not touch', () => {
		expect(spreadLabels([80, 20, 140], 20, 0, 200)).toEqual([80, 20, 140]);
	});

	it('pushes touching ones apart and keeps their order', () => {
		expect(spreadLabels([52, 50, 51], 10, 0, 200)).toEqual([70, 50, 60]);
	});

	it('pushes back up at the lower end', () => {
		expect(spreadLabels([95, 98], 10, 0, 100)).toEqual([90, 100]);
	});

	it('never lets one label cover another', () => {
		const positions = fc.array(fc.double({ min: -50, max: 250, noNaN: true }), { maxLength: 10 });
		fc.assert(
			fc.property(positions, (wanted) => {
				const placed = spreadLabels(wanted, 12, 0, 200).toSorted((a, b) => a - b);
				const gaps = placed.slice(1).map((y, i) => y - placed[i]!);
				expect(Math.min(12, ...gaps)).toBeGreaterThanOrEqual(12 - 1e-9);
			})
		);
	});
});
