import { describe, expect, it } from 'vitest';
import { readAnswers, shownFact, withAnswers } from '$lib/review/asked-facts';
import { fuelOf } from '$lib/review/fuel';
import { asksAdult, knownDetails, lackingDetails, weightSentence } from '$lib/review/your-details';

const card = { id: 'ath-1', name: 'Nerea' };

describe('the details that estimates of weight take', () => {
	it('are told where the card has them and asked where it has not', () => {
		const half = { ...card, sex: 'male', birthYear: 1996 } as const;
		expect(knownDetails(half, 'metric')).toEqual(['male', 'born 1996']);
		expect(lackingDetails(half)).toEqual(['heightCm']);
		expect(knownDetails({ ...half, heightCm: 180, pregnant: true }, 'metric')).toEqual([
			...['male', 'born 1996', '180 cm', 'pregnant']
		]);
		expect(lackingDetails({ ...half, heightCm: 180 })).toEqual([]);
	});

	it('have a height that is read in centimetres or inches (1 inch = 2.54 cm)', () => {
		expect(readAnswers({ heightCm: '70' }, 'imperial', 2026)).toEqual({ told: { heightCm: 177.8 } });
		expect(shownFact('heightCm', { heightCm: 177.8 }, 'imperial')).toBe('70');
		expect(readAnswers({ heightCm: '18' }, 'metric', 2026)).toEqual({
			field: 'heightCm',
			problem: 'A height lies between 100 cm and 230 cm. Nothing was kept.'
		});
		expect(withAnswers(card, { heightCm: 180 }, '2026-11-28').heightCm).toBe(180);
		expect(withAnswers({ ...card, heightCm: 175 }, { heightCm: 180 }, '2026-11-28').heightCm).toBe(175);
	});

	it('ask for "18 or over" only of whom the year of birth leaves it open', () => {
		expect([undefined, 2007, 2008, 2009].map((birthYear) => asksAdult({ ...card, birthYear }, 2026))).toEqual(
			[...[true, false, true, false]]
		);
	});
});

describe('the weight in a sentence', () => {
	const view = (kg?: number) =>
		fuelOf(
			card,
			{ weightKg: kg === undefined ? {} : { '2026-11-28': kg }, intakeKcal: {}, days: new Map() },
			[],
			'2026-11-28'
		);

	it('says what is weighed and the limit where one was typed', () => {
		expect(weightSentence(view(61.2), card, 'kg')).toBe('Weighs 61.2 kg, the median of seven days.');
		expect(weightSentence(view(61.2), { ...card, weightLimitKg: 60 }, 'kg')).toBe(
			'Weighs 61.2 kg, the median of seven days. Weight limit: 60.0 kg.'
		);
		expect(weightSentence(view(), card, 'kg')).toBe('No weight is known yet.');
	});
});

it('the details of a card name a measured VO2max', () => {
	expect(knownDetails({ ...card, vo2max: 48 }, 'metric')).toEqual(['VO2max 48']);
	expect(knownDetails(card, 'metric')).toEqual([]);
});
