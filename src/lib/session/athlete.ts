import type { AthleteSnapshot } from './record';
import type { Athlete } from './record-schema';

/** The athlete's numbers as they stand in `year`, for a record to keep. */
export function snapshotOf(athlete: Athlete, year: number): AthleteSnapshot {
	const { id, name, birthYear, thresholdBpm, measuredMaxBpm, slowingMedicine } = athlete;
	return {
		athleteId: id,
		name,
		...(thresholdBpm !== undefined && { thresholdBpm }),
		...(measuredMaxBpm !== undefined && { measuredMaxBpm }),
		...(birthYear !== undefined && { ageYears: year - birthYear }),
		...(slowingMedicine && { slowingMedicine })
	};
}
