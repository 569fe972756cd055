import { rateColumns, secondsInUnit, timeColumns, type Column } from './csv-columns';
import { readNumber, readTime, type Time } from './csv-times';
import type { PhaseKind } from '$lib/rounds/phase';
import type { Activity } from '$lib/rounds/plan';
import type { Reading } from '$lib/record/columns';

/** What a row tells: seconds since the first one, the rate there, and what only some files have. */
export interface TracePoint extends Partial<Pick<Reading, 'contact' | 'rrMs' | 'energyKJ'>> {
	s: number;
	bpm: number;
}

/** A stretch of a session as its table tells it: every row of one phase. Elapsed ms. */
export interface TablePhase {
	kind: PhaseKind;
	round?: number;
	activity?: Activity;
	startMs: number;
	pauses: { fromMs: number; toMs: number }[];
}

/** A heart-rate trace that a file brings. */
export interface ImportedTrace {
	points: TracePoint[];
	/** Moment of the first row where the file tells it, ISO 8601. */
	startedAt?: string;
	/** The rounds in it, where the file tells them, and where its first row lies, elapsed ms. */
	rounds?: { firstMs: number; phases: readonly TablePhase[] };
	/** What the file says of it. */
	isSimulated?: boolean;
	/** What was recognised, in words, for confirmation. */
	recognised: Partial<Record<'form' | 'separator' | 'decimal' | 'time' | 'rate' | 'gaps', string>>;
}

/** `asks`: several columns may be the heart rate, and somebody has to say which. */
export type CsvAnswer =
	| { status: 'read'; trace: ImportedTrace }
	| { status: 'asks'; problem: string; columns: Column[] }
	| { status: 'refused'; problem: string };

const mostRows = 200_000;
/** Of any table. */
export const mostColumns = 1000;
/** What a column without a name is taken for, if every one of its first rows lies in it, beats a minute. */
const likelyBpm = { least: 25, most: 250 };
// A hundred characters a row, which is several times what any export writes.
export const mostCsvCharacters = 20_000_000;
// As long as a session can be. Beyond it a wrong time would make a grid of seconds that no memory holds.
const longestS = 4 * 3600;
export const separators = [
	['\t', 'tab'],
	[';', 'semicolon'],
	[',', 'comma'],
	['|', 'bar']
] as const;

/**
 * Reads a CSV text with a time and a heart rate in each row. Separator, decimal sign, the form of the time and
 * the two columns are found out; with no header the first column is the time. Where several columns may as well be the
 * heart rate, the answer asks which; then call again with its place `rateAt`. A line
 * that cannot be read refuses the whole file and is named by its number, counted from 1 with the header: half
 * a trace is worse than none. An empty rate is a gap, not a fault.
 *
 * @example parseCsv('time;heart rate\n0:00;120\n0:01;121')
 */
export function parseCsv(text: string, rateAt?: number): CsvAnswer {
	if (text.length > mostCsvCharacters)
		return refused('The file is larger than any recording can be, so it was not read.');
	if (/^\uFEFF?\s*\{/.test(text))
		return refused('This is no table but a JSON file. A session or a backup is brought in under Backup.');
	const lines = linesOf(text, mostRows);
	if (!lines) return refused(`The file has over ${mostRows} rows, more than any run has.`);
	if (lines.length < 2) return refused('The file has no rows with a time and a heart rate.');
	const first = lines[0]!;
	// The rows decide: a header may hold commas of its own.
	const separator = separators.find(([sign]) => lines.slice(0, 5).every(({ line }) => line.includes(sign)));
	if (!separator)
		return refused(
			`Line ${first.number} has no separator: tabs, semicolons, commas or bars must part the time from the rate.`
		);
	const [sign, separatorName] = separator;
	const header = cellsOf(first.line, sign);
	if (header.length > mostColumns)
		return refused(`Line ${first.number} has over ${mostColumns} columns, more than any recording has.`);
	const hasHeader = header.some((cell) => /\p{L}/u.test(cell) && readTime(cell) === undefined);
	const rows = lines.slice(hasHeader ? 1 : 0);
	const time = hasHeader ? timeColumns(header)[0] : { at: 0, name: 'first' };
	const rates = hasHeader ? rateColumns(header) : unnamedRates(rows, sign);
	if (!time || rates.length === 0) {
		const missing = time ? 'heart rate' : 'time';
		return refused(`Line ${first.number} names no column for the ${missing}: ${short(header.join(', '))}.`);
	}
	const rate = rates.length === 1 ? rates[0] : rates.find(({ at }) => at === rateAt);
	if (!rate)
		return {
			status: 'asks',
			problem: 'More than one column may be the heart rate. Choose which it is.',
			columns: rates.map(({ at, name }) => ({ at, name: short(name) }))
		};
	const unitS = hasHeader ? secondsInUnit(time.name) : 1;
	return readRows(
		rows,
		sign,
		{ timeAt: time.at, rateAt: rate.at, unitS },
		{ separator: separatorName, rate: rate.name },
		time.name
	);
}

type Line = { line: string; number: number };

/** The lines of a text that are not empty, each with its number from 1; undefined where there are more than `most`. */
export function linesOf(text: string, most: number): Line[] | undefined {
	// Counted before the text is cut up. Every second one may be empty.
	let left = 2 * most;
	const ends = /\r\n|\n|\r/g;
	while (ends.test(text)) if (left-- === 0) return undefined;
	const lines = firstLines(text, most + 1);
	return lines.length > most ? undefined : lines;
}

/** The first lines of a text that are not empty. Whatever else is in it, no more than those are ever made. */
export function firstLines(text: string, most: number): Line[] {
	const lines: Line[] = [];
	const ends = /\r\n|\n|\r|$/g;
	let from = text.startsWith('\uFEFF') ? 1 : 0;
	for (let number = 1; from <= text.length && lines.length < most; number++) {
		ends.lastIndex = from;
		const end = ends.exec(text)!;
		const line = text.slice(from, end.index);
		if (line.trim() !== '') lines.push({ line, number });
		from = end.index + Math.max(1, end[0].length);
	}
	return lines;
}

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'];

/** The columns of a file without a header that may be a heart rate by what stands in them. */
function unnamedRates(rows: readonly { line: string }[], sign: string): Column[] {
	const cells = rows.slice(0, 5).map(({ line }) => cellsOf(line, sign));
	const columns = (cells[0] ?? [])
		.map((_, at) => ({ at, name: ordinals[at] ?? `number ${at + 1}` }))
		.slice(1);
	if (columns.length < 2) return columns;
	const isLikely = ({ at }: Column) =>
		cells.every((row) => {
			const bpm = readNumber(row[at] ?? '');
			return row[at] === '' || (bpm !== undefined && bpm >= likelyBpm.least && bpm <= likelyBpm.most);
		});
	const likely = columns.filter(isLikely);
	return likely.length > 0
		? likely.map(({ at, name }) => ({ at, name: `${name} (${cells[0]![at]})` }))
		: columns;
}

function readRows(
	rows: readonly { line: string; number: number }[],
	sign: string,
	{ timeAt, rateAt, unitS }: { timeAt: number; rateAt: number; unitS: number },
	recognised: Pick<ImportedTrace['recognised'], 'separator' | 'rate'>,
	timeColumn: string
): CsvAnswer {
	const points: ImportedTrace['points'] = [];
	let firstTime: Time | undefined;
	let lastS = -Infinity;
	let midnights = 0;
	let hasComma = false;
	for (const { line, number } of rows) {
		const cells = cellsOf(line, sign);
		const timeText = cells[timeAt] ?? '';
		const rateText = cells[rateAt] ?? '';
		const time = readTime(timeText, unitS);
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
		trace: {
			points,
			...(firstTime?.startedAt && { startedAt: firstTime.startedAt }),
			recognised: {
				...recognised,
				decimal: hasComma ? 'comma' : 'point',
				time: `${timeColumn} (${firstTime!.form})`
			}
		}
	};
}

/** The cells of a line; quotes may hold the separator (RFC 4180). */
export function cellsOf(line: string, sign: string): string[] {
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
/** As much of a cell as a sentence quotes. */
export const short = (text: string) =>
	text.length > longestQuote ? `${text.slice(0, longestQuote)}…` : text;

export function refused(problem: string): Extract<CsvAnswer, { status: 'refused' }> {
	return {
		status: 'refused',
		problem: `${problem} Nothing was brought in: correct the file and choose it again.`
	};
}
