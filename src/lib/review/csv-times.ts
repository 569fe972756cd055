import { isOnCalendar } from './day-numbers';

/** A moment as a row tells it: seconds on whatever clock its rows share. */
export interface Time {
	s: number;
	form: 'seconds' | 'milliseconds' | 'minutes' | 'hours, minutes, seconds' | 'date and time';
	startedAt?: string;
}

/**
 * The time in a cell, undefined where there is none.
 *
 * @param unitS how many seconds the unit of a bare number is
 */
export function readTime(text: string, unitS = 1): Time | undefined {
	const dated =
		/^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d+)?))?(Z|[+-]\d\d:?\d\d)?$/.exec(text) ??
		dayFirst(text);
	if (dated) {
		const [, year, month, day, hour, minute, second = '0', zone = ''] = dated;
		const offset = zone.replace(/(\d\d):?(\d\d)/, '$1:$2');
		// Without a zone it is the clock on the wall, here.
		const minuteMs = Date.parse(`${year}-${month}-${day}T${hour}:${minute}${offset}`);
		const s = +second.replace(',', '.');
		const ms = minuteMs + s * 1000;
		// The language reads hour 24 as the next day's first.
		if (!isOnCalendar(`${year}-${month}-${day}`) || +hour! > 23 || s >= 60 || Number.isNaN(ms))
			return undefined;
		return { s: ms / 1000, form: 'date and time', startedAt: new Date(ms).toISOString() };
	}
	const clock = /^(?:(\d{1,2}):)?(\d{1,3}):(\d\d(?:[.,]\d+)?)$/.exec(text);
	if (clock) {
		const [, hour = '0', minute, second] = clock;
		const s = +hour * 3600 + +minute! * 60 + +second!.replace(',', '.');
		if (+second!.replace(',', '.') >= 60 || (clock[1] && +minute! > 59)) return undefined;
		return { s, form: 'hours, minutes, seconds' };
	}
	const s = readNumber(text);
	const form = unitS === 60 ? 'minutes' : unitS < 1 ? 'milliseconds' : 'seconds';
	return s === undefined ? undefined : { s: s * unitS, form };
}

/** 31.12.2026 18:30:00, put into the order of the other form. */
function dayFirst(text: string): RegExpExecArray | undefined {
	const found = /^(\d\d)\.(\d\d)\.(\d{4})[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d+)?))?$/.exec(text);
	if (found) [found[1], found[3]] = [found[3]!, found[1]!];
	return found ?? undefined;
}

/** A number with a decimal point or comma. */
export function readNumber(text: string): number | undefined {
	return /^-?\d+(?:[.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : undefined;
}
