import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';

/** One line of what `npm run faults` comes to. */
export interface Row {
	/** What was counted. */
	what: string;
	/** How many times it was tried. */
	runs: string;
	measured: string;
	goal: string;
	met: boolean;
}

/** What one kind of run came to, with each fault in words. */
export interface Played {
	rows: Row[];
	faults: readonly string[];
}

export const count = (number: number) => number.toLocaleString('en');

/** A count whose goal is none at all. */
export function none(what: string, runs: string, found: number): Row {
	return { what, runs, measured: count(found), goal: '0', met: found === 0 };
}

/** A time whose goal is to stay under a limit; milliseconds in, seconds shown. */
export function under(what: string, runs: string, ms: number, limitMs: number): Row {
	const seconds = (value: number) => `${(value / 1000).toFixed(2)} s`;
	return { what, runs, measured: seconds(ms), goal: `under ${limitMs / 1000} s`, met: ms < limitMs };
}

/** The rows as a table in Markdown. */
export function tableOf(rows: readonly Row[]): string {
	const lines = [
		['what was counted', 'runs', 'measured', 'goal', 'met?'],
		...rows.map(({ what, runs, measured, goal, met }) => [what, runs, measured, goal, met ? 'yes' : 'NO'])
	];
	const widths = lines[0]!.map((_, column) => Math.max(...lines.map((line) => line[column]!.length)));
	const text = lines.map((line) => `| ${line.map((cell, i) => cell.padEnd(widths[i]!)).join(' | ')} |`);
	const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`;
	return [text[0], rule, ...text.slice(1)].join('\n');
}

/** A table as `tableOf` made it, with these rows in place of those that counted the same, and new ones below. */
export function renewedTable(table: string, rows: readonly Row[]): string {
	const all = new Map<string, Row>();
	for (const line of table.split('\n').slice(2)) {
		const cells = line.split('|').map((cell) => cell.trim());
		const [, what = '', runs = '', measured = '', goal = '', met] = cells;
		all.set(what, { what, runs, measured, goal, met: met === 'yes' });
	}
	for (const row of rows) all.set(row.what, row);
	return tableOf([...all.values()]);
}

/** Renews the rows of the guide; what was not run now stays as it was. */
export function renewGuide(rows: readonly Row[]): void {
	const text = readFileSync('DEVELOPERS.md', 'utf8');
	const place = /(<!-- faults -->\n\n)([^]*?)(\n\n<!-- \/faults -->)/;
	writeFileSync(
		'DEVELOPERS.md',
		text.replace(place, (_, from, table: string, to) => `${from}${renewedTable(table, rows)}${to}`)
	);
}

/** For programs: the rows and the seed that gives them again. */
export function writeRows(rows: readonly Row[], seed: number): void {
	mkdirSync('test-results', { recursive: true });
	writeFileSync('test-results/faults.json', `${JSON.stringify({ seed, rows }, undefined, '\t')}\n`);
}

/** The value that 95 of a hundred do not exceed (nearest rank). */
export function percentile95(values: readonly number[]): number {
	const sorted = values.toSorted((a, b) => a - b);
	return sorted[Math.ceil(0.95 * sorted.length) - 1] ?? NaN;
}
