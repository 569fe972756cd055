// Made once: a new formatter for each of a thousand days takes longer than all else on their screen.
const formats = new Map<string, Intl.DateTimeFormat>();

/** The parts of a moment on the clock of a zone, or of this browser where none is named. */
function partsOf(at: number | string, timeZone = ''): Partial<Record<Intl.DateTimeFormatPartTypes, string>> {
	let format = formats.get(timeZone);
	if (!format) {
		format = new Intl.DateTimeFormat('en', {
			weekday: 'short',
			day: 'numeric',
			month: 'short',
			year: 'numeric',
			hour: '2-digit',
			minute: '2-digit',
			hourCycle: 'h23',
			...(timeZone && { timeZone })
		});
		formats.set(timeZone, format);
	}
	return Object.fromEntries(format.formatToParts(new Date(at)).map(({ type, value }) => [type, value]));
}

/**
 * A day as the page writes it everywhere: "Thu 26 Nov", and "Thu 26 Nov 2025" where the year is not that of `nowMs`.
 *
 * @param at epoch milliseconds, or an ISO 8601 moment
 * @param zone the IANA zone whose clock is read; without one this browser's
 */
export function dayWords(at: number | string, { zone = '', nowMs = Date.now() } = {}): string {
	const isThisYear = partsOf(at, zone).year === partsOf(nowMs, zone).year;
	return isThisYear ? shortened(at, zone) : paperDayWords(at, zone);
}

/** The same of a calendar day, YYYY-MM-DD. Its noon is read: midnight in Greenwich is the day before in the west. */
export const dateWords = (date: string, options: { nowMs?: number } = {}) =>
	dayWords(`${date}T12:00`, options);

function shortened(at: number | string, zone?: string): string {
	const { weekday, day, month } = partsOf(at, zone);
	return `${weekday} ${day} ${month}`;
}

const timeWords = (at: number | string, zone?: string) => {
	const { hour, minute } = partsOf(at, zone);
	return `${hour}:${minute}`;
};

/** A day and the time: "Thu 26 Nov, 18:00". @see dayWords */
export function momentWords(at: number | string, options: { zone?: string; nowMs?: number } = {}): string {
	return `${dayWords(at, options)}, ${timeWords(at, options.zone)}`;
}

/** A day under a picture, where room is short: "26 Nov". */
export function shortDayWords(at: number | string, zone = ''): string {
	const { day, month } = partsOf(at, zone);
	return `${day} ${month}`;
}

/** A day on paper, which is read in another year too: "Thu 26 Nov 2026". */
export const paperDayWords = (at: number | string, zone?: string) =>
	`${shortened(at, zone)} ${partsOf(at, zone).year}`;

/** A moment on paper: "Thu 26 Nov 2026, 18:00". */
export const paperMomentWords = (at: number | string, zone?: string) =>
	`${paperDayWords(at, zone)}, ${timeWords(at, zone)}`;
