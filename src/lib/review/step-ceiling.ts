import { stepCeiling } from '$lib/physiology/way-back';
import type { Athlete } from '$lib/record/athlete';
import { restrictionOf } from '$lib/record/way-back';
import { ageOn } from './age';

/**
 * The rate, whole bpm, that an athlete on the way back after a blow to the head is not to go over today; undefined where the
 * step has none, or where it cannot be told.
 *
 * @param today YYYY-MM-DD
 */
export function ceilingOf(athlete: Athlete, today: string): number | undefined {
	const restriction = restrictionOf(athlete, today);
	if (!restriction) return undefined;
	return stepCeiling(restriction.step, { ...athlete, ageYears: ageOn(today, athlete) })?.value;
}
