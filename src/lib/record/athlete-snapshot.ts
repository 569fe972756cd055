import type { AthleteSnapshot } from './head';
import type { Athlete } from './athlete';
import type { Measured } from '$lib/rounds/aim';

const kept = [
	'thresholdBpm',
	'thresholdBasis',
	'measuredMaxBpm',
	'slowingMedicine',
	'sex',
	'heightCm',
	'weightKg',
	'restBpm',
	'vo2max'
] as const satisfies readonly (keyof Athlete & keyof AthleteSnapshot)[];

// A clock that is decades wrong makes an age that no record can hold: then it is unknown.
const oldestYears = 130;

/** The athlete's numbers as they stand in `year`, for a record to keep. */
export function snapshotOf(athlete: Athlete, year: number): AthleteSnapshot {
	const known = kept.filter((name) => athlete[name] !== undefined).map((name) => [name, athlete[name]]);
	const ageYears = year - (athlete.birthYear ?? NaN);
	return {
		athleteId: athlete.id,
		name: athlete.name,
		...Object.fromEntries(known),
		...(ageYears >= 0 && ageYears <= oldestYears && { ageYears })
	};
}

/** The age of the youngest of these in `year`, years; undefined where no age is known. */
export function youngestYearsOf(athletes: readonly Athlete[], year: number): number | undefined {
	const ages = athletes.flatMap((athlete) => snapshotOf(athlete, year).ageYears ?? []);
	return ages.length > 0 ? Math.min(...ages) : undefined;
}

/** By what the aims of some of these can be measured. */
export const measuredOf = (
	athletes: readonly Pick<Athlete, 'thresholdBpm' | 'measuredMaxBpm'>[]
): Measured => ({
	threshold: athletes.some(({ thresholdBpm }) => thresholdBpm !== undefined),
	maximum: athletes.some(({ measuredMaxBpm }) => measuredMaxBpm !== undefined)
});
