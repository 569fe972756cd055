import { describe, expect, it } from 'vitest';
import { energyOf, type EnergyFacts } from '$lib/physiology/energy';
import { energyOfParts } from '$lib/physiology/energy-parts';

const man: EnergyFacts = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30, measuredMaxBpm: 190 };
const minutes = (count: number, bpm: number) => new Float64Array(60 * count).fill(bpm);

describe('the energy of a session of several activities', () => {
	it('is the sum of its parts, each in the range of its own', () => {
		const { value } = energyOfParts(
			[
				{ seconds: minutes(1, 150), activity: 'bag' },
				{ seconds: minutes(2, 150), activity: 'running' }
			],
			man
		);

		// 60.4991 kJ/min (Keytel et al., J Sports Sci 2005;23:289-297, computed), 0.65 to 1 of it for the bag and 0.85 to 1.15
		// for the run; at rest 1730 kcal a day (Mifflin et al. 1990), which are 5.02661 kJ/min.
		const [kJ, resting] = [60.4991, (1730 * 4.184) / 1440];
		expect(value?.lowKJ).toBeCloseTo((0.65 + 2 * 0.85) * kJ, 6);
		expect(value?.highKJ).toBeCloseTo((1 + 2 * 1.15) * kJ, 6);
		expect(value?.grossKJ).toBeCloseTo((0.825 + 2) * kJ, 6);
		expect(value?.restingKJ).toBeCloseTo(3 * resting, 6);
		expect(value?.netLowKJ).toBeCloseTo((0.65 + 2 * 0.85) * kJ - 3 * resting, 6);
		expect(value?.netKJ).toBeCloseTo((0.825 + 2) * kJ - 3 * resting, 6);
		expect(value?.netHighKJ).toBeCloseTo((1 + 2 * 1.15) * kJ - 3 * resting, 6);
		expect(value).toMatchObject({
			countedS: 180,
			coverage: 1,
			method: 'Keytel',
			restingMethod: 'Mifflin-St Jeor'
		});
		expect(value?.cautions).toEqual([expect.stringMatching(/reads high for the bag/)]);
	});

	it('is that of the joined seconds where all parts are of one activity', () => {
		const parts = [minutes(1, 150), minutes(2, NaN), minutes(1, 170)].map((seconds) => ({
			seconds,
			activity: 'pads' as const
		}));
		const whole = Float64Array.of(...parts.flatMap(({ seconds }) => [...seconds]));

		expect(energyOfParts(parts, man)).toEqual(energyOf(whole, man, { activity: 'pads' }));
		expect(energyOfParts(parts, man).value?.coverage).toBe(0.5);
		expect(energyOfParts(parts.slice(0, 1), man)).toEqual(
			energyOf(minutes(1, 150), man, { activity: 'pads' })
		);
	});

	it('leaves a part without a reading out, which the coverage says, and says no caution twice', () => {
		const heavy: EnergyFacts = { ...man, weightKg: 130 };
		const { value } = energyOfParts(
			[
				{ seconds: minutes(1, NaN), activity: 'bag' },
				{ seconds: minutes(1, 150), activity: 'running' },
				{ seconds: minutes(2, 150), activity: 'pads' }
			],
			heavy
		);

		expect(value).toMatchObject({ countedS: 180, coverage: 0.75 });
		expect(value?.cautions).toEqual([
			'The regression was made on people of 47 to 120 kg; 130 lies outside.',
			expect.stringMatching(/Part of hard rounds needs no oxygen/)
		]);
	});

	it('has a reason where no part has a figure: that of the first', () => {
		const nothingRead = 'No second has a heart-rate reading: check the strap.';
		const parts = [
			{ seconds: minutes(1, NaN), activity: 'bag' as const },
			{ seconds: minutes(1, NaN), activity: 'pads' as const }
		];

		expect(energyOfParts(parts, man)).toEqual({ reason: nothingRead });
		expect(energyOfParts([], man)).toEqual({ reason: nothingRead });
		expect(energyOfParts(parts, { ...man, sex: undefined }).reason).toMatch(/sex is not given/);
	});
});
