import { regressionRange, regressionShares, type EnergyActivity } from './energy-regression';
import { isPlausibleBpm, type Seconds } from './grid';
import { maxHeartRateFromAge } from './max-heart-rate';
import type { RestingExpenditure } from './resting-expenditure';

interface Circumstances {
	activity: EnergyActivity;
	weightKg: number;
	ageYears: number;
	vo2Max?: number;
	measuredMaxBpm?: number;
	/** Share of the seconds that have a reading, 0 to 1. */
	coverage: number;
	restingMethod: RestingExpenditure['method'];
}

const fairCoverage = 0.95;

/**
 * What an energy figure leaves out or goes beyond, in sentences for the page: one for each limit of the
 * regression that the athlete or the effort exceeds (`regressionRange`; Keytel et al., J Sports Sci
 * 2005;23:289-297), for the activity, for coverage under 95 % (own rule) and for a resting expenditure that is
 * only a convention. Times outside 57 to 90 % of the maximum are named from 1 % of the readings on (own rule);
 * the maximum is the measured one, else 208 - 0.7 age (Tanaka, Monahan, Seals, J Am Coll Cardiol
 * 2001;37:153-156, SD 10).
 *
 * @param seconds the stretch the figure is of
 * @param circumstances ages of 10 to 100 years
 * @example
 * energyCautions(new Float64Array(60).fill(150), {
 *   activity: 'running', weightKg: 75, ageYears: 52, coverage: 1, restingMethod: 'Mifflin-St Jeor'
 * }) // ['The regression was made on people of 18 to 45 years; 52 lies outside.']
 */
export function energyCautions(seconds: Seconds, circumstances: Circumstances): string[] {
	const { activity, weightKg, ageYears, vo2Max, coverage, restingMethod } = circumstances;
	const cautions: string[] = [];
	const { low, high } = regressionShares[activity];
	const shares = `the range is ${low} to ${high} times the regression, and the figure is its middle`;
	if (activity === 'bag' || activity === 'shadow boxing') {
		cautions.push(
			`The regression was made on steady running and cycling and reads high for ${activity === 'bag' ? 'the bag' : activity}: ${shares}.`
		);
	}
	if (activity === 'pads' || activity === 'sparring') {
		cautions.push(
			`The regression was made on steady running and cycling. Part of hard rounds needs no oxygen, and no heart rate shows it: ${shares}.`
		);
	}
	if (activity === 'other') {
		cautions.push(
			`The regression was made on steady running and cycling; how far it holds for this activity is unknown: ${shares}.`
		);
	}
	const { ageYears: ages, weightKg: weights, vo2Max: uptakes } = regressionRange;
	if (isOutside(ageYears, ages)) {
		cautions.push(
			`The regression was made on people of ${ages.low} to ${ages.high} years; ${ageYears} lies outside.`
		);
	}
	if (isOutside(weightKg, weights)) {
		cautions.push(
			`The regression was made on people of ${weights.low} to ${weights.high} kg; ${weightKg} lies outside.`
		);
	}
	if (vo2Max !== undefined && isOutside(vo2Max, uptakes)) {
		cautions.push(
			`The regression was made on people with a VO2max of ${uptakes.low} to ${uptakes.high} ml/kg/min; ${vo2Max} lies outside.`
		);
	}
	cautions.push(...effortCautions(seconds, circumstances));
	if (coverage < fairCoverage) {
		cautions.push(
			`Readings cover only ${Math.floor(100 * coverage)} % of the time; the gaps are not counted, so the figure is low.`
		);
	}
	if (restingMethod === 'one MET') {
		cautions.push(
			'Resting expenditure is taken as 1 kcal a kilogram an hour, because the height is missing or impossible.'
		);
	}
	return cautions;
}

function effortCautions(seconds: Seconds, circumstances: Circumstances): string[] {
	const { measuredMaxBpm, ageYears } = circumstances;
	const isMeasured = measuredMaxBpm !== undefined && isPlausibleBpm(measuredMaxBpm);
	const maxBpm = isMeasured ? measuredMaxBpm : maxHeartRateFromAge(ageYears)?.bpm;
	if (maxBpm === undefined) return [];
	const { low, high } = regressionRange.shareOfMax;
	let readings = 0;
	let under = 0;
	let over = 0;
	for (const bpm of seconds) {
		if (!isPlausibleBpm(bpm)) continue;
		readings++;
		if (bpm < low * maxBpm) under++;
		if (bpm > high * maxBpm) over++;
	}
	const cautions: string[] = [];
	const kind = isMeasured ? 'measured maximum' : 'maximum estimated from age';
	const say = (count: number, where: string) => {
		const percent = Math.round((100 * count) / readings);
		if (percent >= 1) {
			cautions.push(
				`${percent} % of the readings are ${where} % of the ${kind}, where the regression was not made.`
			);
		}
	};
	say(under, 'under 57');
	say(over, 'over 90');
	return cautions;
}

function isOutside(value: number, range: { low: number; high: number }): boolean {
	return value < range.low || value > range.high;
}
