import { describe, expect, it } from 'vitest';
import { simulatedHeart } from '$lib/gatt/simulated-heart';
import { energyOf, type EnergyFacts } from '$lib/physiology/energy';
import { regressionKJPerMin } from '$lib/physiology/energy-regression';
import { metEnergyKJ, metOf } from '$lib/physiology/met';

const boxing = { activity: 'boxing' } as const;
const steady = (bpm: number) => new Float64Array(60).fill(bpm);

/** Rates of a simulated athlete, second by second, after a minute of standing about. */
function simulated(lengthS: number, effortAt: (s: number) => number) {
	const heart = simulatedHeart({
		effortAt: (ms) => (ms < 60_000 ? 0.12 : effortAt(ms / 1000 - 60)),
		startMs: 0,
		seed: 11
	});
	heart.beatsUntil(60_000);
	let bpm = 60;
	return Float64Array.from({ length: lengthS }, (_, i) => {
		const last = heart.beatsUntil(60_000 + (i + 1) * 1000).at(-1);
		if (last) bpm = 60_000 / last.rrMs;
		return bpm;
	});
}

describe('energy of boxing against what was measured', () => {
	it('holds the cost of 2-minute punching trials, and the regression alone reads high', () => {
		// J Strength Cond Res 2003;17:104-8: 12 men and 6 women of 22.0 years and 71.54 kg, 170.79 cm; 167.4 to
		// 182.2 bpm, 9.8 to 11.2 kcal/min.
		const group = { weightKg: 71.54, heightCm: 170.79, ageYears: 22 };
		const groupMean = (of: (sex: 'female' | 'male') => number) => (12 * of('male') + 6 * of('female')) / 18;
		for (const [bpm, measuredKcal] of [
			[167.4, 9.8],
			[182.2, 11.2]
		] as const) {
			const plain = groupMean((sex) => regressionKJPerMin(bpm, { ...group, sex })) / 4.184;
			expect(plain).toBeGreaterThan(1.4 * measuredKcal);
			const low = groupMean((sex) => energyOf(steady(bpm), { ...group, sex }, boxing).value!.lowKJ) / 4.184;
			expect(low).toBeLessThan(measuredKcal);
		}
	});

	it('holds what sparring and pads took in oxygen', () => {
		// Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359. The rates, near 90 % of the maximum of men of
		// 25, are ours: El-Ashker et al., Sports 2018;6:119, found peaks of 90 % or more in every round.
		const sparringMet = metOf('sparring').value!.alsoMeasured!.met;
		const padsMet = metOf('pads').value!.met;
		for (const weightKg of [60, 70, 80]) {
			const { lowKJ, highKJ } = energyOf(
				steady(172),
				{ sex: 'male', weightKg, heightCm: 178, ageYears: 25 },
				boxing
			).value!;
			for (const met of [sparringMet, padsMet]) {
				expect(metEnergyKJ(met, 1, weightKg)).toBeGreaterThan(lowKJ);
				expect(metEnergyKJ(met, 1, weightKg)).toBeLessThan(highKJ);
			}
		}
	});

	it('holds an hour of non-contact training', () => {
		// Bellinger et al., Med Sci Sports Exerc 1997;29:1653-6: 8 men, 2821 +/- 190 kJ, 2519 to 3079. Their
		// mass, age and rates are not in the abstract: a man of 75 kg and 25 years, ten rounds of 3 minutes
		// between warm-up and cool-down, is ours.
		const hour = simulated(3600, (s) => {
			const isDrill = s >= 600 && s < 3000;
			return isDrill ? ((s - 600) % 240 < 180 ? 1 : 0.04) : 0.45;
		});
		const athlete: EnergyFacts = { sex: 'male', weightKg: 75, heightCm: 178, ageYears: 25 };
		const { lowKJ, highKJ } = energyOf(hour, athlete, boxing).value!;
		expect(lowKJ).toBeLessThan(2821);
		expect(highKJ).toBeGreaterThan(2821);
	});

	it('says that a bout can cost more, which with its anaerobic part it did', () => {
		// Davis, Leithauser, Beneke, Int J Sports Physiol Perform 2014;9:233: ten boxers of 23.7 years, 180.2 cm and
		// 70.6 kg, 3 x 2 minutes, about 680 kJ net with what the breaks restored.
		const bout = simulated(480, (s) => (s % 180 < 120 ? 1 : 0.04));
		const boxer: EnergyFacts = { sex: 'male', weightKg: 70.6, heightCm: 180.2, ageYears: 23.7 };
		const { netHighKJ, cautions } = energyOf(bout, boxer, boxing).value!;
		expect(netHighKJ).toBeLessThan(680);
		expect(cautions[0]).toMatch(/bouts can cost more/);
	});
});
