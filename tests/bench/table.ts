/** One figure beside its limit. */
export interface Row {
	row: string;
	/** In `unit`; undefined where it could not be measured, and `note` says why. */
	measured: number | undefined;
	limit: number;
	/** What the same gives where nothing of ours takes part; `limit` then is how much more is allowed. Only with `most`. */
	control?: number;
	/** `most`: at the most the limit; `least`: at the least; `over`: above it. */
	kind: 'most' | 'least' | 'over';
	unit: string;
	note?: string;
}

export function isMet({ measured, limit, kind, control = 0 }: Row): boolean {
	if (measured === undefined || Number.isNaN(measured)) return false;
	return kind === 'most'
		? measured <= control + limit
		: kind === 'least'
			? measured >= limit
			: measured > limit;
}

/** Whole numbers from a hundred on, else three figures. */
export function figure(value: number | undefined): string {
	if (value === undefined || Number.isNaN(value)) return 'not measured';
	return Math.abs(value) >= 100 ? Math.round(value).toLocaleString('en') : String(+value.toPrecision(3));
}

const limitWords = { most: 'at most', least: 'at least', over: 'over' } as const;

/** The rows as a table of Markdown, which a terminal shows as well as DEVELOPERS.md does. */
export function tableOf(rows: readonly Row[]): string {
	const cells = rows.map((row) => {
		const inUnit = (value: number | undefined) => `${figure(value)} ${row.unit}`.trim();
		const hasControl = row.control !== undefined;
		return [
			row.row + (row.note ? ` (${row.note})` : ''),
			inUnit(row.measured) + (hasControl ? `, control ${inUnit(row.control)}` : ''),
			`${limitWords[row.kind]} ${inUnit(row.limit)}` + (hasControl ? ' over control' : ''),
			isMet(row) ? 'yes' : 'no'
		];
	});
	const head = ['row', 'measured', 'limit', 'met'];
	const widths = head.map((title, i) => Math.max(title.length, ...cells.map((row) => row[i]!.length)));
	const line = (row: readonly string[]) => `| ${row.map((cell, i) => cell.padEnd(widths[i]!)).join(' | ')} |`;
	return [line(head), `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`, ...cells.map(line)].join(
		'\n'
	);
}

export function median(values: readonly number[]): number {
	return percentile(values, 50);
}

/** By linear interpolation between the ranks; NaN of nothing. */
export function percentile(values: readonly number[], percent: number): number {
	const sorted = [...values].sort((a, b) => a - b);
	const at = ((sorted.length - 1) * percent) / 100;
	const low = sorted[Math.floor(at)] ?? NaN;
	return low + ((sorted[Math.ceil(at)] ?? NaN) - low) * (at - Math.floor(at));
}
