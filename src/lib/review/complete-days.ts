import type { Athlete } from '$lib/record/athlete';
import type { TrainingDay } from '$lib/record/day';
import { lastDays } from './day-numbers';
import { shownDays, type DayCost } from './fuel';
import { dayTrainingWords, trainingsOf, type KeptTraining, type Training } from './training';

/** Trainings that were entered without a strap, by day: nobody knows what they cost. */
export function uncostedOf(
	days: ReadonlyMap<string, TrainingDay>,
	trainings: ReadonlyMap<string, readonly KeptTraining[]>
): DayCost[] {
	return [...days].flatMap(([date, day]) => {
		const all = trainingsOf(day, trainings.get(date) ?? []);
		// One that tells a session once more costs what that did.
		const tellsSession = ({ entry }: Training) =>
			all.some(({ id, session }) => session && id === entry?.sameAs);
		return all.flatMap((one) => (one.session || one.isLeftOut || tellsSession(one) ? [] : { date }));
	});
}

/** What was said of the last days, newest first: for whoever says which of them are complete. */
export function completeDays(
	athlete: Athlete,
	days: ReadonlyMap<string, TrainingDay>,
	trainings: ReadonlyMap<string, readonly KeptTraining[]>,
	today: string
) {
	return lastDays(today, shownDays).map((date) => ({
		date,
		words: dayTrainingWords(days.get(date), trainings.get(date) ?? []),
		allTraining: days.get(date)?.allTraining ?? athlete.entersAllTraining ?? false,
		allFood: days.get(date)?.allFood ?? athlete.entersAllFood ?? false
	}));
}
