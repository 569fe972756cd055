import { dayOf } from '$lib/record/athlete-changes';
import type { TrainingDay } from '$lib/record/day';
import type { KeptTraining, KnownDay } from './training';
import {
	daysAfter,
	knownOn,
	trainingsByAthlete,
	trainingsByDate,
	weekAgainstBefore,
	type LoadWeek
} from './weeks';

/** An athlete's week day by day, and against the four before it. */
export interface SquadWeekRow {
	athleteId: string;
	name: string;
	/** Monday first; absent where the day is still to come. */
	days: { date: string; words: string }[];
	week: LoadWeek;
}

/** A row an athlete, in the order of the athletes. */
export function squadWeek(
	athletes: readonly { id: string; name: string }[],
	days: ReadonlyMap<string, { days: ReadonlyMap<string, TrainingDay> }>,
	trainings: readonly KeptTraining[],
	monday: Date,
	nowMs: number
): SquadWeekRow[] {
	const byAthlete = trainingsByAthlete(trainings);
	return athletes.map(({ id, name }) => {
		const own = days.get(id)?.days ?? new Map<string, TrainingDay>();
		const byDate = trainingsByDate(byAthlete.get(id) ?? []);
		const known = knownOn(own, byDate);
		const dates = Array.from({ length: 7 }, (_, i) => daysAfter(monday, i))
			.filter((day) => day.getTime() <= nowMs)
			.map(dayOf);
		return {
			athleteId: id,
			name,
			days: dates.map((date) => ({
				date,
				words: cellWords(known(date))
			})),
			week: weekAgainstBefore(monday, known, nowMs)
		};
	});
}

/** A day's load; "rest", "unknown", or that an effort is owed. */
function cellWords({ isKnown, isEffortOwed, load, trainings }: KnownDay): string {
	if (!isKnown) return 'unknown';
	if (trainings.length === 0) return 'rest';
	if (load === undefined) return 'effort owed';
	return isEffortOwed ? `${Math.round(load)}, effort owed` : String(Math.round(load));
}
