// Made once: a new formatter for each of a thousand days takes longer than all else on their screen.
const shortDay = new Intl.DateTimeFormat([], { day: 'numeric', month: 'short' });
const mediumDay = new Intl.DateTimeFormat([], { dateStyle: 'medium' });
const fullMoment = new Intl.DateTimeFormat([], { dateStyle: 'full', timeStyle: 'short' });
const mediumMoment = new Intl.DateTimeFormat([], { dateStyle: 'medium', timeStyle: 'short' });

/** A day of this year or one near it, in the browser's language; from epoch milliseconds. */
export const shortDayWords = (ms: number) => shortDay.format(ms);

/** A day with its year, in the browser's language. */
export const mediumDayWords = (at: number | string) => mediumDay.format(new Date(at));

/** A day with its year and the time of day, in the browser's language. */
export const mediumMomentWords = (at: number | string) => mediumMoment.format(new Date(at));

/** The same with the day of the week. */
export const fullMomentWords = (at: number | string) => fullMoment.format(new Date(at));
