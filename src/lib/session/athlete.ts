import type { AthleteSnapshot } from './record';
import type { Athlete } from './record-schema';

const kept = [
	'thresholdBpm',
	'measuredMaxBpm',
	'slowingMedicine',
	'sex',
	'heightCm',
	'weightKg',
	'restBpm',
	'vo2max'
] as const satisfies readonly (keyof Athlete & keyof AthleteSnapshot)[];

/** The athlete's numbers as they stand in `year`, for a record to keep. */
export function snapshotOf(athlete: Athlete, year: number): AthleteSnapshot {
	const known = kept.filter((name) => athlete[name] !== undefined).map((name) => [name, athlete[name]]);
	return {
		athleteId: athlete.id,
		name: athlete.name,
		...Object.fromEntries(known),
		...(athlete.birthYear !== undefined && { ageYears: year - athlete.birthYear })
	};
}
