import type { Answer } from './answer';
import { energyCautions } from './energy-cautions';
import {
	regressionLine,
	regressionShares,
	type EnergyActivity,
	type RegressionLine
} from './energy-regression';
import { isPlausibleBpm, type Seconds } from './grid';
import {
	bodyOf,
	restingExpenditureOf,
	type RestingExpenditure,
	type RestingFacts
} from './resting-expenditure';

/** What is known of an athlete as far as it bears on energy. */
export interface EnergyFacts extends RestingFacts {
	/** Measured maximal oxygen uptake, ml/kg/min, 10 to 100. */
	vo2Max?: number;
	/** Highest rate ever measured, bpm; without it the estimate from age tells the valid range. */
	measuredMaxBpm?: number;
	/** The athlete takes medicine that slows the heart. */
	slowingMedicine?: boolean;
}

/** Energy used over the seconds that have a reading, kJ, unrounded. low <= figure <= high, gross and net. */
export interface EnergyEstimate {
	/** The middle of the gross range. */
	grossKJ: number;
	lowKJ: number;
	highKJ: number;
	/** Gross less resting expenditure over the same seconds, 0 or more. */
	netKJ: number;
	netLowKJ: number;
	netHighKJ: number;
	/** Resting expenditure over the same seconds. */
	restingKJ: number;
	/** How many seconds have a reading and are counted. */
	countedS: number;
	/** Share of the seconds that have a reading, 0 to 1. */
	coverage: number;
	method: RegressionLine['method'];
	restingMethod: RestingExpenditure['method'];
	/** What the figure leaves out or goes beyond, in sentences for the page. */
	cautions: string[];
}

const minutesInDay = 1440;

/**
 * Energy used, in kJ, by the published regression on heart rate, second by second, never under resting
 * expenditure; gross, net of resting, and both as a range. Summed by seconds, so that the energies of two
 * stretches add up to that of both.
 *
 * Range and figure, its middle, by activity (own rules, `regressionShares`). Bag and shadow boxing 0.65 to 1.0 of
 * the regression, which reads high there: 9.8 to 11.2 kcal/min were measured in 2-minute punching trials at 85 to 93
 * % of maximum (12 men, 6 women; Kravitz, Greene, Burkett, Wongsathikun, J Strength Cond Res 2003;17:104-8, authors
 * from memory), where it gives 15 to 17 of such a group; an hour of non-contact training cost 2821 +/- 190 kJ
 * (Bellinger et al., Med Sci Sports Exerc 1997;29:1653-6). Both count oxygen only. Pads and sparring 0.8 to 1.3,
 * because part of them needs no oxygen: 3 x 2 minutes against pads came to about 680 kJ net, 526 of them with oxygen
 * (Davis, Leithauser, Beneke, Int J Sports Physiol Perform 2014;9:233-239). Running +/- 15 %, other activities 0.65
 * to 1.3. The error of a single person is hardly smaller than these ranges.
 *
 * Gaps are not counted, neither as work nor as rest, and not filled by the mean (own rule): filling would
 * invent readings where the strap lost them, often in the hardest exchanges, and stretches would no longer add
 * up. The figure is therefore low by about the share that `coverage` lacks, and a caution says so.
 *
 * Valid range and source of the regression: `regressionLine` (Keytel et al., J Sports Sci 2005;23:289-297);
 * outside of it a caution says so. Resting expenditure: `restingExpenditureOf`.
 *
 * @param seconds the stretch to be counted and nothing else; a session of several activities is their sum
 * @returns the reason where sex, body mass or age is missing or impossible, where no second has a reading, and
 *   with medicine that slows the heart
 * @example
 * const hour = new Float64Array(3600).fill(150);
 * const man = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;
 * energyOf(hour, man, { activity: 'bag' }).value?.grossKJ // 2994.7, of 2359.5 to 3629.9
 */
export function energyOf(
	seconds: Seconds,
	athlete: EnergyFacts,
	options: { activity: EnergyActivity }
): Answer<EnergyEstimate> {
	const { sex, vo2Max } = athlete;
	if (athlete.slowingMedicine) {
		return { reason: 'Medicine that slows the heart makes an estimate from heart rate meaningless.' };
	}
	if (sex === undefined) {
		return { reason: 'The sex is not given, and the regressions for women and men differ: enter it.' };
	}
	if (vo2Max !== undefined && !(vo2Max >= 10 && vo2Max <= 100)) {
		return { reason: `A VO2max of ${vo2Max} ml/kg/min is outside 10 to 100: correct or remove it.` };
	}
	const body = bodyOf(athlete);
	if (!body.value) return body;
	const resting = restingExpenditureOf(athlete);
	if (!resting.value) return resting;

	const restingKJPerMin = resting.value.kJPerDay / minutesInDay;
	const line = regressionLine({ ...body.value, sex, vo2Max });
	const share = regressionShares[options.activity];
	let low = 0;
	let high = 0;
	let countedS = 0;
	for (const bpm of seconds) {
		if (!isPlausibleBpm(bpm)) continue;
		const kJPerMin = line.interceptKJPerMin + line.slopeKJPerBeat * bpm;
		low += Math.max(restingKJPerMin, share.low * kJPerMin);
		high += Math.max(restingKJPerMin, share.high * kJPerMin);
		countedS++;
	}
	if (countedS === 0) return { reason: 'No second has a heart-rate reading: check the strap.' };

	const lowKJ = low / 60;
	const highKJ = high / 60;
	const restingKJ = (countedS * restingKJPerMin) / 60;
	// Sums of equal parts may differ from their product in the last digit, and "-0" is no energy.
	const netOf = (kJ: number) => Math.max(0, kJ - restingKJ);
	const coverage = countedS / seconds.length;
	return {
		value: {
			grossKJ: (lowKJ + highKJ) / 2,
			lowKJ,
			highKJ,
			netKJ: netOf((lowKJ + highKJ) / 2),
			netLowKJ: netOf(lowKJ),
			netHighKJ: netOf(highKJ),
			restingKJ,
			countedS,
			coverage,
			method: line.method,
			restingMethod: resting.value.method,
			cautions: energyCautions(seconds, {
				...body.value,
				activity: options.activity,
				vo2Max,
				measuredMaxBpm: athlete.measuredMaxBpm,
				coverage,
				restingMethod: resting.value.method
			})
		}
	};
}
