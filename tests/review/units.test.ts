import { describe, expect, it } from 'vitest';
import { heightField, heightWords, weightField, weightWords } from '$lib/review/units';

// A pound is 0.45359237 kg and an inch 2.54 cm, exactly (international yard and pound agreement, 1959); a stone is
// 14 pounds, a foot 12 inches.
describe('units for the eye', () => {
	it('show pounds and stone', () => {
		// 75 / 0.45359237 = 165.35 lb = 11 st 11.3 lb (computed by hand).
		expect(weightWords(75, 'imperial')).toBe('165.3 lb (11 st 11.3 lb)');
		expect(weightWords(75, 'metric')).toBe('75 kg');
	});

	it('never show 14 pounds beside a stone', () => {
		expect(weightWords(13.99 * 0.45359237, 'imperial')).toBe('14 lb (1 st 0 lb)');
	});

	it('show feet and inches', () => {
		expect(heightWords(180, 'imperial')).toBe('5 ft 10.9 in');
		expect(heightWords(182.88, 'imperial')).toBe('6 ft 0 in');
	});

	it('store what was typed in metric', () => {
		expect(weightField.stored(100, 'imperial')).toBeCloseTo(45.359237, 9);
		expect(heightField.stored(70, 'imperial')).toBeCloseTo(177.8, 9);
		expect(weightField.shown(45.359237, 'imperial')).toBe(100);
		expect(heightField.shown(177.8, 'imperial')).toBe(70);
		expect(weightField.stored(75, 'metric')).toBe(75);
	});
});
