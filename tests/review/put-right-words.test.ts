import { describe, expect, it } from 'vitest';
import { putRightWords, toldWords } from '$lib/review/put-right-words';
import { makeHead } from '../store/builders';

describe('what is said of a session that was put right', () => {
	const head = makeHead();
	const bo = { id: 'ath-2', name: 'Bo' };

	it('is nothing where nothing else stands now', () => {
		expect(putRightWords(head, {})).toBeUndefined();
		expect(putRightWords(head, { note: 'hands drop', effort: 7 })).toBeUndefined();
		const same = {
			activity: 'pads',
			planName: 'Six on the pads',
			athlete: { id: 'ath-1', name: 'Ody' }
		} as const;
		expect(putRightWords(head, same)).toBeUndefined();
	});

	it('is what was recorded, each by itself', () => {
		expect(putRightWords(head, { activity: 'bag' })).toBe('Put right afterwards; recorded as: pads.');
		expect(putRightWords(head, { planName: 'Bag' })).toBe(
			'Put right afterwards; recorded as: plan “Six on the pads”.'
		);
		expect(putRightWords(head, { athlete: bo })).toBe(
			'Put right afterwards; recorded as: Nerea. Threshold, weight and age are those of Bo on that day, as far as they are known.'
		);
	});

	it('is all of it in one sentence', () => {
		expect(putRightWords(head, { athlete: bo, activity: 'bag', planName: 'Bag' })).toMatch(
			/^Put right afterwards; recorded as: Nerea, pads, plan “Six on the pads”\. Threshold/
		);
	});
});

describe('numbers that were told afterwards', () => {
	it('are named in the order of a card, with tenths where they may have some', () => {
		const told = {
			sex: 'female',
			ageYears: 27,
			weightKg: 70,
			heightCm: 168,
			restBpm: 51.24,
			thresholdBpm: 161.55,
			measuredMaxBpm: 190
		} as const;
		expect(toldWords(told, 'metric')).toBe(
			'female, age 27, weight 70 kg, height, resting rate 51.2, threshold 161.6, maximum 190'
		);
	});

	it('are each left out where they were not told', () => {
		expect(toldWords({}, 'metric')).toBe('');
		expect(toldWords({ heightCm: 168 }, 'metric')).toBe('height');
		expect(toldWords({ ageYears: 27, measuredMaxBpm: 190 }, 'metric')).toBe('age 27, maximum 190');
		// 70 / 0.45359237 = 154.3 lb = 11 st 0.3 lb (by hand).
		expect(toldWords({ weightKg: 70 }, 'imperial')).toBe('weight 154.3 lb (11 st 0.3 lb)');
	});
});
