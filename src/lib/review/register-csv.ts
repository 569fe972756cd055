import { wordsOf } from './csv-columns';
import { cellsOf, firstLines, mostColumns } from './csv-import';
import { readNumber } from './csv-times';
import { isOnCalendar } from './day-numbers';
import { plainCell } from './formats/csv-text';
import { entryProblem, type RegisterRow } from './register';
import { grouped } from '$lib/record/grouped';

/** The columns of a table of trainings, and the words that each may be called by. */
const columnWords = {
	day: /\b(day|date|tag|datum|dia|fecha|jour|data)\b/,
	athlete: /\b(athlete|boxer|name|alias|who|sportler|boxeur|atleta|nombre|nom)\b/,
	minutes: /\b(minutes?|mins?|duration|length|minuten|dauer|minutos|duree|durata)\b/,
	activity: /\b(activity|training|what|done|session|work|aktivitat|actividad|activite|attivita)\b/,
	effort: /\b(effort|rating|hard|felt|anstrengung|esfuerzo|sforzo)\b/
} as const;
export type TableColumn = keyof typeof columnWords;
export const tableColumns = Object.keys(columnWords) as TableColumn[];

/** Which place each column has in a row, from 0; absent where nothing says so. */
export type ColumnPlaces = Partial<Record<TableColumn, number>>;

/** A training, or a day of rest, that a table tells. */
export interface TableEntry {
	/** Counted from 1 with the header. */
	line: number;
	athleteId: string;
	name: string;
	/** YYYY-MM-DD. */
	date: string;
	/** Absent on a day of rest. */
	training?: { activity: string; minutes: number; effort?: number };
}

export interface TableProblem {
	line: number;
	/** A sentence: what, where, what to do. */
	problem: string;
}

export type DayOrder = 'year first' | 'day first' | 'month first';

export type RegisterTable =
	| { status: 'refused'; problem: string }
	| {
			status: 'read';
			header: string[];
			places: ColumnPlaces;
			/** How the days are written; absent where they may be read both ways. */
			order?: DayOrder;
			entries: TableEntry[];
			/** Rows that are not taken, by line. */
			problems: TableProblem[];
	  };

/** What somebody said of a table that it does not say itself. */
export interface ToldOfTable {
	places?: ColumnPlaces;
	order?: DayOrder;
}

// As much as a gym of sixty enters in three years; more is taken in file by file.
const mostRows = 25_000;
export const mostTableCharacters = 5_000_000;
const separators = ['\t', ';', ',', '|'];

/**
 * Reads a table of day, athlete, minutes, activity and effort. The columns are recognised by the words of their headers, for
 * somebody to confirm or put right; a row that cannot be true is named by its line, and everything else is taken.
 *
 * @param athletes those who are known here; a table makes nobody new
 * @param today YYYY-MM-DD
 */
export function readRegisterTable(
	text: string,
	athletes: readonly { id: string; name: string }[],
	today: string,
	told: ToldOfTable = {}
): RegisterTable {
	if (text.length > mostTableCharacters)
		return refused('The file is larger than any register can be, so it was not read.');
	// The header, and one row more than is taken.
	const [first, ...rows] = firstLines(text, mostRows + 2);
	if (!first || rows.length === 0) return refused('The file has no rows under a header.');
	const sign = separators.find((one) => first.line.includes(one));
	if (!sign) return refused('The first line names no columns: tabs, semicolons, commas or bars part them.');
	const header = cellsOf(first.line, sign);
	if (header.length > mostColumns)
		return refused(`The first line has over ${mostColumns} columns, more than any register has.`);
	const places = { ...recognised(header), ...told.places };
	const problems: TableProblem[] = [];
	const cells = rows.slice(0, mostRows).map(({ line, number }) => ({ number, row: cellsOf(line, sign) }));
	const at = (row: readonly string[], column: TableColumn) =>
		places[column] === undefined ? '' : plainCell(row[places[column]] ?? '');
	const order = told.order ?? orderOf(cells.map(({ row }) => at(row, 'day')));
	const read = { status: 'read' as const, header, places, ...(order && { order }), entries: [], problems };
	const missing = (['day', 'athlete'] as const).find((column) => places[column] === undefined);
	if (missing || !order) return read;
	const entries: TableEntry[] = [];
	const byName = grouped(athletes, ({ name }) => name.trim().toLowerCase());
	const seen = new Map<string, number>();
	for (const { number, row } of cells) {
		const found = entryOf((column) => at(row, column), byName, order, today);
		if (typeof found === 'string') {
			problems.push({ line: number, problem: `Line ${number}: ${found}` });
			continue;
		}
		const same = `${found.date} ${found.athleteId} ${found.training?.activity.toLowerCase() ?? 'rest'}`;
		const before = seen.get(same);
		if (before !== undefined) {
			const what = found.training ? `with ${found.training.activity}` : 'at rest';
			problems.push({
				line: number,
				problem: `Line ${number}: ${found.name} stands on ${found.date} ${what} in line ${before} already. The first was taken; enter a second training of the kind in the register.`
			});
			continue;
		}
		seen.set(same, number);
		entries.push({ line: number, ...found });
	}
	const next = rows[mostRows];
	if (next)
		problems.push({
			line: next.number,
			problem: `Line ${next.number} and those after it: a table has at most ${mostRows.toLocaleString('en')} rows here. Take the rest in with a second file.`
		});
	return { ...read, entries };
}

const refused = (problem: string): RegisterTable => ({
	status: 'refused',
	problem: `${problem} Nothing was taken in.`
});

/** Each column where one header alone speaks of it: of two that may be meant somebody has to say which. */
function recognised(header: readonly string[]): ColumnPlaces {
	const words = header.map(wordsOf);
	const places: ColumnPlaces = {};
	for (const column of tableColumns) {
		const found = words.flatMap((name, i) => (columnWords[column].test(name) ? [i] : []));
		if (found.length === 1) places[column] = found[0]!;
	}
	const taken = Object.values(places);
	for (const column of tableColumns)
		if (taken.filter((place) => place === places[column]).length > 1) delete places[column];
	return places;
}

/** How all days are written that are days; undefined where they may be read both ways. */
function orderOf(days: readonly string[]): DayOrder | undefined {
	const parts = days.flatMap((day) => {
		const found = /^(\d{1,4})[-./](\d{1,2})[-./](\d{1,4})$/.exec(day);
		return found ? [found] : [];
	});
	if (parts.every(([, first]) => first!.length === 4)) return 'year first';
	const others = parts.filter(([, first]) => first!.length < 4);
	if (others.some(([, first]) => Number(first) > 12)) return 'day first';
	if (others.some(([, , second]) => Number(second) > 12)) return 'month first';
	return undefined;
}

function dateIn(text: string, order: DayOrder): string | undefined {
	const found = /^(\d{1,4})[-./](\d{1,2})[-./](\d{1,4})$/.exec(text);
	if (!found) return undefined;
	const [, a = '', b = '', c = ''] = found;
	const isYearFirst = a.length === 4;
	const [year, month, day] = isYearFirst ? [a, b, c] : order === 'month first' ? [c, a, b] : [c, b, a];
	if (year.length !== 4) return undefined;
	const date = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
	return isOnCalendar(date) ? date : undefined;
}

/** What a row tells, or why it is not taken. */
function entryOf(
	cell: (column: TableColumn) => string,
	byName: ReadonlyMap<string, readonly { id: string }[]>,
	order: DayOrder,
	today: string
): Omit<TableEntry, 'line'> | string {
	const date = dateIn(cell('day'), order);
	if (!date) return `"${short(cell('day'))}" is no day. Write it as 2026-03-01.`;
	if (date > today) return `${date} is still to come. Only days that have begun are taken.`;
	const name = cell('athlete');
	const ids = (byName.get(name.toLowerCase()) ?? []).map(({ id }) => id);
	if (name === '') return 'It names nobody.';
	if (ids.length === 0)
		return `Nobody here is called "${short(name)}". Add them first, or put the name right.`;
	if (ids.length > 1)
		return `Two athletes here are called "${short(name)}". Give one of them another name first.`;
	const who = { athleteId: ids[0]!, name, date };
	const activity = cell('activity');
	const [minutesText, effortText] = [cell('minutes'), cell('effort')];
	if (/^rest$/i.test(activity) && (minutesText === '' || readNumber(minutesText) === 0)) return who;
	const minutes = readNumber(minutesText);
	if (minutes === undefined) return `"${short(minutesText)}" is no number of minutes.`;
	const effort = effortText === '' ? undefined : readNumber(effortText);
	if (effortText !== '' && effort === undefined) return `"${short(effortText)}" is no effort from 0 to 10.`;
	const training = { activity: activity || 'training', minutes, ...(effort !== undefined && { effort }) };
	return entryProblem(training) ?? { ...who, training };
}

const short = (text: string) => (text.length > 60 ? `${text.slice(0, 60)}…` : text);

/** The rows of a table of the register, with its header: what a spreadsheet opens and this page reads back. */
export function registerTable(
	rows: readonly { date: string; row: RegisterRow }[]
): (string | number | undefined)[][] {
	const told = rows
		.filter(({ row }) => row.isKnown)
		.toSorted((one, other) => (one.date < other.date ? -1 : one.date > other.date ? 1 : 0))
		.flatMap(({ date, row }) =>
			row.isRest
				? [[date, row.name, undefined, 'rest', undefined]]
				: row.trainings
						.filter(({ entry }) => entry?.sameAs === undefined)
						.map(({ activity, minutes, effort }) => [
							date,
							row.name,
							Math.max(1, Math.round(minutes)),
							activity,
							effort
						])
		);
	return [[...tableColumns], ...told];
}
