const dayMs = 86_400_000;

/** Days of the calendar since 1 January 1970, of a date YYYY-MM-DD: numbers to reckon with, whatever the clock does that day. */
export const dayNumber = (date: string) => Math.round(Date.parse(`${date}T00:00:00Z`) / dayMs);

/** The date, YYYY-MM-DD, of a day number. */
export const dateOf = (day: number) => new Date(day * dayMs).toISOString().slice(0, 10);

/** So many dates that end with `today`, newest first. */
export const lastDays = (today: string, count: number) =>
	Array.from({ length: count }, (_, i) => dateOf(dayNumber(today) - i));

/** Whether a calendar has this day, YYYY-MM-DD: the language reads the 30th of February as one of March. */
export function isOnCalendar(date: string): boolean {
	const moment = new Date(`${date}T00:00:00Z`);
	return !Number.isNaN(moment.getTime()) && moment.toISOString().startsWith(date);
}
