import { describe, expect, it } from 'vitest';
import {
	atLeastWords,
	energyWords,
	heightField,
	heightWords,
	toKg,
	weightField,
	weightScale,
	weightUnitOf,
	weightWords,
	weightWordsIn
} from '$lib/review/units';

// A pound is 0.45359237 kg and an inch 2.54 cm, exactly (international yard and pound agreement, 1959); a stone is
// 14 pounds, a foot 12 inches.
describe('units for the eye', () => {
	it('show pounds and stone', () => {
		// 75 / 0.45359237 = 165.35 lb = 11 st 11.3 lb (computed by hand).
		expect(weightWordsIn('imperial', 75)).toBe('165.3 lb (11 st 11.3 lb)');
		expect(weightWordsIn('metric', 75)).toBe('75 kg');
	});

	it('never show 14 pounds beside a stone', () => {
		expect(weightWords(13.99 * 0.45359237, 'st')).toBe('1 st 0.0 lb');
		expect(weightWordsIn('imperial', 13.99 * 0.45359237)).toBe('14 lb (1 st 0 lb)');
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

	it('follow the exact definitions', () => {
		// International yard and pound agreement, 1959: 1 lb = 0.45359237 kg; 14 lb to the stone.
		expect(toKg(10, 'lb')).toBeCloseTo(4.5359237, 12);
		expect(toKg(1, 'st')).toBeCloseTo(6.35029318, 12);
		expect(weightWords(toKg(11.5, 'st'), 'st')).toBe('11 st 7.0 lb');
		expect(energyWords(1000, 'kJ')).toBe('4,180 kJ');
	});
	it('round a floor up and never under it', () => {
		expect(atLeastWords(2410.8, 'kcal')).toBe('2,420 kcal');
		expect(atLeastWords(2410, 'kcal')).toBe('2,410 kcal');
		expect(atLeastWords(1000, 'kJ')).toBe('4,190 kJ');
	});
});

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

it('a field shows what is kept in metric as it was kept', () => {
	expect(weightField.shown(75.25, 'metric')).toBe(75.25);
	expect(heightField.shown(180, 'metric')).toBe(180);
});
