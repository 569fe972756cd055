import { describe, expect, it } from 'vitest';
import { weightScale, weightUnitOf } from '$lib/review/weight-scale';

// A pound is 0.45359237 kg exactly (international yard and pound agreement, 1959); a stone is 14 pounds.
describe('the axis of a picture of weights', () => {
	it('lies in the unit that the athlete reads', () => {
		expect(weightUnitOf({}, 'metric')).toBe('kg');
		expect(weightUnitOf({}, 'imperial')).toBe('lb');
		expect(weightUnitOf({ weightUnit: 'st' }, 'metric')).toBe('st');
	});

	it('is kilograms as they are, and pounds by the agreement', () => {
		expect(weightScale('kg').ofKg(70.25)).toBe(70.25);
		expect(weightScale('lb').ofKg(45.359237)).toBeCloseTo(100, 9);
		expect(weightScale('lb').figure(154.30001)).toBe('154.3');
	});

	it('reads in stone and pounds, and never with fourteen pounds', () => {
		const { ofKg, figure } = weightScale('st');
		// 70 / 0.45359237 = 154.32 lb = 11 st 0.3 lb (by hand).
		expect(figure(ofKg(70))).toBe('11 st 0.3');
		expect(figure(157)).toBe('11 st 3');
		expect(figure(153.97)).toBe('11 st 0');
	});
});
