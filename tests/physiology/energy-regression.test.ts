import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { regressionKJPerMin, regressionLine, type RegressionFacts } from '$lib/physiology/energy-regression';

const man: RegressionFacts = { sex: 'male', weightKg: 75, ageYears: 30 };
const woman: RegressionFacts = { sex: 'female', weightKg: 60, ageYears: 30 };

describe('regressionKJPerMin', () => {
	// Keytel et al., J Sports Sci 2005;23:289-297, computed from the printed coefficients.
	it('gives the printed regression its values for both sexes', () => {
		expect(regressionKJPerMin(150, man)).toBeCloseTo(60.4991, 10);
		expect(regressionKJPerMin(150, woman)).toBeCloseTo(41.3198, 10);
		expect(regressionLine(man).method).toBe('Keytel');
	});

	it('gives the form with VO2max its values, with both terms of the men’s intercept', () => {
		// By hand: -95.7735 + 0.634 x 150 + 0.404 x 50 + 0.394 x 75 + 0.271 x 30 = 57.2065 and
		// -59.3954 + 0.450 x 150 + 0.380 x 45 + 0.103 x 60 + 0.274 x 30 = 39.6046.
		expect(regressionKJPerMin(150, { ...man, vo2Max: 50 })).toBeCloseTo(57.2065, 10);
		expect(regressionKJPerMin(150, { ...woman, vo2Max: 45 })).toBeCloseTo(39.6046, 10);
		expect(regressionLine({ ...woman, vo2Max: 45 }).method).toBe('Keytel with VO2max');
	});

	it('climbs with the rate always, and with body mass in every form but that of women without VO2max', () => {
		const anyFacts = fc.record({
			sex: fc.constantFrom<'female' | 'male'>('female', 'male'),
			weightKg: fc.integer({ min: 47, max: 120 }),
			ageYears: fc.integer({ min: 18, max: 45 }),
			vo2Max: fc.option(fc.integer({ min: 27, max: 81 }), { nil: undefined })
		});
		fc.assert(
			fc.property(anyFacts, fc.integer({ min: 30, max: 239 }), (facts, bpm) => {
				expect(regressionKJPerMin(bpm + 1, facts)).toBeGreaterThan(regressionKJPerMin(bpm, facts));
				const heavier = regressionKJPerMin(bpm, { ...facts, weightKg: facts.weightKg + 1 });
				const falls = facts.sex === 'female' && facts.vo2Max === undefined;
				expect(heavier > regressionKJPerMin(bpm, facts)).toBe(!falls);
			})
		);
	});
});
