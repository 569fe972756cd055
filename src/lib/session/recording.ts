import { packReadings } from './columns';
import { thresholdRunPlan } from './guided-plans';
import { recordVersion, type AthleteSnapshot, type SessionRecord } from './record';

/** A recording made elsewhere: seconds since its first row, and the rate there. */
export interface Recording {
	points: { s: number; bpm: number }[];
	/** Moment of the first row where the file tells it, ISO 8601. */
	startedAt?: string;
	/** What was recognised, in words, for confirmation. */
	recognised: { separator: string; decimal: string; time: string; timeColumn: string; rateColumn: string };
}

export type RecordingReading =
	{ status: 'read'; recording: Recording } | { status: 'refused'; problem: string };

const mostRows = 200_000;
// A hundred characters a row, which is several times what any export writes.
export const mostRecordingCharacters = 20_000_000;
// As long as a session can be. Beyond it a wrong time would make a grid of seconds that no memory holds.
const longestS = 4 * 3600;
const separators = [
	['\t', 'tab'],
	[';', 'semicolon'],
	[',', 'comma'],
	['|', 'bar']
] as const;

/**
 * Reads a CSV text with a time and a heart rate in each row. Separator, decimal sign, the form of the time and
 * the two columns are found out; with no header the first column is the time and the second the rate. A line
 * that cannot be read refuses the whole file and is named by its number, counted from 1 with the header: half
 * a recording is worse than none. An empty rate is a gap, not a fault.
 *
 * @example parseRecording('time;heart rate\n0:00;120\n0:01;121')
 */
export function parseRecording(text: string): RecordingReading {
	if (text.length > mostRecordingCharacters)
		return refused('The file is larger than any recording can be, so it was not read.');
	const lines = text
		.replace(/^\uFEFF/, '')
		.split(/\r\n|\n|\r/)
		.map((line, i) => ({ line, number: i + 1 }))
		.filter(({ line }) => line.trim() !== '');
	if (lines.length < 2) return refused('The file has no rows with a time and a heart rate.');
	if (lines.length > mostRows) return refused(`The file has over ${mostRows} rows, more than any run has.`);
	const first = lines[0]!;
	// The rows decide: a header may hold commas of its own.
	const separator = separators.find(([sign]) => lines.slice(0, 5).every(({ line }) => line.includes(sign)));
	if (!separator)
		return refused(
			`Line ${first.number} has no separator: tabs, semicolons, commas or bars must part the time from the rate.`
		);
	const [sign, separatorName] = separator;
	const header = cellsOf(first.line, sign);
	const hasHeader = header.some((cell) => /[a-z]/i.test(cell) && readTime(cell) === undefined);
	const columns = hasHeader ? columnsOf(header) : { time: 0, rate: 1 };
	if (columns.time === undefined || columns.rate === undefined) {
		const missing = columns.time === undefined ? 'time' : 'heart rate';
		return refused(`Line ${first.number} names no column for the ${missing}: ${short(header.join(', '))}.`);
	}
	return readRows(lines.slice(hasHeader ? 1 : 0), sign, columns.time, columns.rate, {
		separator: separatorName,
		timeColumn: hasHeader ? header[columns.time]! : 'first',
		rateColumn: hasHeader ? header[columns.rate]! : 'second'
	});
}

function readRows(
	rows: readonly { line: string; number: number }[],
	sign: string,
	timeAt: number,
	rateAt: number,
	recognised: Pick<Recording['recognised'], 'separator' | 'timeColumn' | 'rateColumn'>
): RecordingReading {
	const points: Recording['points'] = [];
	let firstTime: Time | undefined;
	let lastS = -Infinity;
	let midnights = 0;
	let hasComma = false;
	for (const { line, number } of rows) {
		const cells = cellsOf(line, sign);
		const timeText = cells[timeAt] ?? '';
		const rateText = cells[rateAt] ?? '';
		const time = readTime(timeText);
		if (!time) return refused(`Line ${number}: "${short(timeText)}" is no time that can be read.`);
		firstTime ??= time;
		if (time.form !== firstTime.form)
			return refused(`Line ${number}: "${short(timeText)}" is written otherwise than the times before it.`);
		let s = time.s - firstTime.s + midnights * 86_400;
		// A clock without a date starts anew at midnight.
		if (s < lastS && time.form === 'hours, minutes, seconds' && lastS - s > 43_200) {
			midnights++;
			s += 86_400;
		}
		if (s < lastS) return refused(`Line ${number}: the time goes back. Rows must stand in order.`);
		// Not `s > longestS`: a number too long to be one is refused here too.
		if (!(s <= longestS))
			return refused(
				`Line ${number}: "${short(timeText)}" lies more than 4 hours after the first row. Bring in the run alone.`
			);
		lastS = s;
		hasComma ||= /\d,\d/.test(timeText) || /\d,\d/.test(rateText);
		if (rateText === '') continue;
		const bpm = readNumber(rateText);
		if (bpm === undefined || bpm < 0 || bpm > 300)
			return refused(`Line ${number}: "${short(rateText)}" is no heart rate in beats a minute.`);
		points.push({ s, bpm });
	}
	if (points.length < 2) return refused('The file has fewer than two rows with a heart rate.');
	return {
		status: 'read',
		recording: {
			points,
			...(firstTime?.startedAt && { startedAt: firstTime.startedAt }),
			recognised: { ...recognised, decimal: hasComma ? 'comma' : 'point', time: firstTime!.form }
		}
	};
}

interface Time {
	s: number;
	form: 'seconds' | 'hours, minutes, seconds' | 'date and time';
	startedAt?: string;
}

function readTime(text: string): Time | undefined {
	const dated =
		/^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d+)?))?(Z|[+-]\d\d:?\d\d)?$/.exec(text) ??
		dayFirst(text);
	if (dated) {
		const [, year, month, day, hour, minute, second = '0', zone = ''] = dated;
		const offset = zone.replace(/(\d\d):?(\d\d)/, '$1:$2');
		// Without a zone it is the clock on the wall, here.
		const minuteMs = Date.parse(`${year}-${month}-${day}T${hour}:${minute}${offset}`);
		const ms = minuteMs + +second.replace(',', '.') * 1000;
		if (+month! > 12 || +day! > 31 || +hour! > 23 || +minute! > 59 || Number.isNaN(ms)) return undefined;
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
	return s === undefined ? undefined : { s, form: 'seconds' };
}

/** 31.12.2026 18:30:00, put into the order of the other form. */
function dayFirst(text: string): RegExpExecArray | undefined {
	const found = /^(\d\d)\.(\d\d)\.(\d{4})[T ](\d\d):(\d\d)(?::(\d\d(?:[.,]\d+)?))?$/.exec(text);
	if (found) [found[1], found[3]] = [found[3]!, found[1]!];
	return found ?? undefined;
}

function readNumber(text: string): number | undefined {
	return /^-?\d+(?:[.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : undefined;
}

function columnsOf(header: readonly string[]): { time?: number; rate?: number } {
	const find = (pattern: RegExp) => {
		const at = header.findIndex((name) => pattern.test(name));
		return at < 0 ? undefined : at;
	};
	return {
		time: find(/time|zeit|temps|hora|tempo|elapsed|second|^t$|^s$|_s$/i),
		rate: find(/heart|rate|bpm|puls|herz|^hr|beats|fc\b|frequ/i)
	};
}

/** The cells of a line; quotes may hold the separator (RFC 4180). */
function cellsOf(line: string, sign: string): string[] {
	const cells: string[] = [];
	let cell = '';
	let isQuoted = false;
	for (let i = 0; i < line.length; i++) {
		const char = line[i]!;
		if (char === '"' && isQuoted && line[i + 1] === '"') {
			cell += '"';
			i++;
		} else if (char === '"') isQuoted = !isQuoted;
		else if (char === sign && !isQuoted) {
			cells.push(cell.trim());
			cell = '';
		} else cell += char;
	}
	return [...cells, cell.trim()];
}

const longestQuote = 60;
const short = (text: string) => (text.length > longestQuote ? `${text.slice(0, longestQuote)}…` : text);

function refused(problem: string): RecordingReading {
	return { status: 'refused', problem: `${problem} Nothing was brought in.` };
}

/**
 * The moment at which a recording began on a day of the calendar here (YYYY-MM-DD), ISO 8601: at its own time of
 * day, or at noon where the file tells none.
 */
export function startedOn(day: string, { startedAt }: Pick<Recording, 'startedAt'>): string {
	const moment = startedAt === undefined ? new Date(2000, 0, 1, 12) : new Date(startedAt);
	const [year, month, date] = day.split('-').map(Number);
	moment.setFullYear(year!, month! - 1, date);
	return moment.toISOString();
}

/**
 * A threshold run out of a recording: what comes before the chosen 20 minutes is its warm-up, what comes
 * after its cool-down.
 *
 * @param fromS second of the recording at which the 20 minutes begin
 */
export function recordOfRecording(
	recording: Recording,
	fromS: number,
	athlete: AthleteSnapshot,
	about: { id: string; startedAt: string; zone: string; fileName: string }
): SessionRecord {
	const { points } = recording;
	const lengthS = Math.ceil(points.at(-1)!.s) + 1;
	const warmUpS = Math.round(fromS);
	const plan = {
		...thresholdRunPlan(warmUpS),
		name: 'Threshold run, recorded elsewhere',
		getReadyS: 0,
		coolDownS: Math.max(0, Math.min(4 * 3600, lengthS - warmUpS - 1260))
	};
	return {
		head: {
			version: recordVersion,
			id: about.id,
			groupId: about.id,
			startedAt: about.startedAt,
			zone: about.zone,
			endedMs: lengthS * 1000,
			plan,
			amendments: [],
			athlete,
			strapName: `Recording ${about.fileName}`.slice(0, 120),
			practice: false,
			events: []
		},
		body: packReadings(
			points.map(({ s, bpm }) => ({
				ms: Math.round(s * 1000),
				bpm: Math.round(bpm),
				contact: 'not supported',
				rrMs: []
			}))
		)
	};
}
