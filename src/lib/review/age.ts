import type { Athlete } from '$lib/record/athlete';

/** Years of age that somebody reaches in a year, true to within one; undefined where no year of birth is known. */
export const ageIn = (year: number, { birthYear }: Pick<Athlete, 'birthYear'>): number | undefined =>
	birthYear === undefined ? undefined : year - birthYear;

/** The same on a day, YYYY-MM-DD. */
export const ageOn = (date: string, athlete: Pick<Athlete, 'birthYear'>) =>
	ageIn(Number(date.slice(0, 4)), athlete);
