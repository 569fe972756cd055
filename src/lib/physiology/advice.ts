import type { Drop60Forecast } from './forecast';
import { bandBpm, type RestMeasure, type RestOptions } from './recovery';
import type { Usual } from './usual';

/** What the band says of a drop, as it is said of the rest and not of the person. */
const slow = 'slower than gyms look for';
const expected = 'what gyms look for; look at the boxer first';
const far = 'above the band: check strap and boxer, tiredness can do this too';

/** From this age on a fall is held against what was found in adults. */
const adultFromYears = 19;
const adultSmallFallBpm = 12;
const youthSmallFallBpm = 5;

/**
 * One plain line for the corner: what to do with a verdict.
 *
 * @example adviceFor({ verdict: 'in the band', nearEdge: false }) // 'What gyms look for; look at the boxer first.'
 */
export function adviceFor({ verdict, nearEdge }: Pick<RestMeasure, 'verdict' | 'nearEdge'>): string {
	if (verdict === 'not judged') return 'No verdict on this rest: go by how the boxer looks and feels.';
	if (nearEdge) return 'The error of the drop reaches over an edge of the band: look at the boxer first.';
	switch (verdict) {
		case 'under the band':
			return 'Slower than gyms look for: breathe low and long, and think about an easier round or a longer rest.';
		case 'in the band':
			return `${capital(expected)}.`;
		case 'over the band':
			return `${capital(far)}.`;
	}
}

/**
 * Where a running rest is heading, in words for the corner, while there is a rest left to act in: the interval of
 * the forecast in whole beats, beside it the athlete's own usual where that is known, and what the band would call it.
 * After a round that was not hard, or with medicine that slows the heart, the interval alone: the usual is of rests
 * that were judged.
 *
 * @param forecast its `low` and `high`, bpm
 * @param bellBpm the bell rate, bpm
 * @example headingAdvice({ low: 30.2, high: 37.8 }, 176, { hardFromBpm: 153 }) // 'Heading for 30 to 38: slower than ...'
 * @example headingAdvice(forecast, 176, { hardFromBpm: 153, usual: { low: 38.1, high: 46 } }) // 'Heading for 30 to 38; your usual is 38 to 46. Slower than ...'
 */
export function headingAdvice(
	forecast: Pick<Drop60Forecast, 'low' | 'high'>,
	bellBpm: number | undefined,
	{ hardFromBpm, slowingMedicine, paused, usual }: RestOptions & { usual?: Pick<Usual, 'low' | 'high'> }
): string {
	const low = Math.round(forecast.low) || 0;
	const high = Math.round(forecast.high) || 0;
	const heading = headingWords(forecast);
	const isHard = bellBpm !== undefined && hardFromBpm !== undefined && bellBpm >= hardFromBpm;
	if (!isHard || slowingMedicine || paused) return `${heading}.`;
	const called = calledIn(low, high);
	if (!usual) return `${heading}: ${called}`;
	const [from, to] = [usual.low, usual.high].map((bpm) => Math.round(bpm) || 0);
	return `${heading}; your usual is ${from} to ${to}. ${capital(called)}`;
}

/**
 * The interval of a forecast in words, in whole beats.
 *
 * @param forecast its `low` and `high`, bpm
 * @example headingWords({ low: 30.2, high: 37.8 }) // 'Heading for 30 to 38'
 */
export function headingWords(forecast: Pick<Drop60Forecast, 'low' | 'high'>): string {
	const low = Math.round(forecast.low) || 0;
	const high = Math.round(forecast.high) || 0;
	return low < 0 ? `Heading for ${Math.max(0, high)} or less` : `Heading for ${low} to ${high}`;
}

function calledIn(low: number, high: number): string {
	if (high < bandBpm.low) return `${slow}. Breathe low and long.`;
	if (low > bandBpm.high) return `${far}.`;
	if (low >= bandBpm.low && high <= bandBpm.high) return `${expected}.`;
	return 'too close to call; look at the boxer first.';
}

/** What is said of a very small fall, before anything else. */
export const smallFallAdvice = 'A very small fall. Check the strap. Unwell: stop, see a doctor.';

/**
 * Is this a very small fall in the minute after a hard round? 12 beats or fewer were abnormal in 2428 patients aged
 * 57 +/- 12 with a walking cool-down (Cole et al., N Engl J Med 1999;341:1351-7): another population and protocol, so
 * it is a reason to look and no diagnosis. Of those known to be under 19 it is said from 5 beats down (own rule:
 * 1.6 SD under the 22.4 +/- 10.8 of adolescent athletes in Suzic Lazic et al., Clin Physiol Funct Imaging
 * 2017;37:117-123); who has no age on file is warned as an adult is.
 *
 * @param ageYears whole years
 * @example isVerySmallFall({ drop60: 11, verdict: 'under the band' }, 30) // true
 */
export function isVerySmallFall(
	{ drop60, verdict }: Pick<RestMeasure, 'drop60' | 'verdict'>,
	ageYears: number | undefined
): boolean {
	if (verdict === 'not judged' || drop60 === undefined) return false;
	return Math.round(drop60) <= smallFallBpm(ageYears);
}

/**
 * The fall in the first minute at or under which it is called very small, beats; see `isVerySmallFall`.
 *
 * @example smallFallBpm(30) // 12
 */
export function smallFallBpm(ageYears: number | undefined): number {
	const isYouth = ageYears !== undefined && ageYears < adultFromYears;
	return isYouth ? youthSmallFallBpm : adultSmallFallBpm;
}

const capital = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
