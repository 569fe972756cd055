/** One figure beside its limit. */
export interface Row {
	row: string;
	/** In `unit`; undefined where it could not be measured, and `note` says why. */
	measured: number | undefined;
	limit: number;
	/** What the same gives where nothing of ours takes part; `limit` then is how much worse ours may be. Not with `over`. */
	control?: number;
	/** The same, where `limit` is how many times as much is allowed. Only with `most`. */
	floor?: number;
	/** `most`: at the most the limit; `least`: at the least; `over`: above it. */
	kind: 'most' | 'least' | 'over';
	unit: string;
	note?: string;
}

/** Rows of one part of the page, each with what it may take at the most. */
export const atMostOf =
	(part: string) =>
	(name: string, measured: number, limit: number, unit: string, note?: string): Row => ({
		row: `${part}: ${name}`,
		measured,
		limit,
		kind: 'most',
		unit,
		...(note && { note })
	});

export function isMet({ measured, limit, kind, control, floor }: Row): boolean {
	if (measured === undefined || Number.isNaN(measured)) return false;
	if (kind === 'over') return measured > limit;
	if (kind === 'least') return measured >= (control === undefined ? limit : control - limit);
	return measured <= (floor === undefined ? (control ?? 0) + limit : floor * limit);
}

/** Whole numbers from a hundred on, else three figures. */
export function figure(value: number | undefined): string {
	if (value === undefined || !Number.isFinite(value)) return 'not measured';
	return Math.abs(value) >= 100 ? Math.round(value).toLocaleString('en') : String(+value.toPrecision(3));
}

const limitWords = { most: 'at most', least: 'at least', over: 'over' } as const;

/** The rows as a table of Markdown, which a terminal shows as well as DEVELOPERS.md does. */
export function tableOf(rows: readonly Row[]): string {
	const cells = rows.map((row) => {
		const inUnit = (value: number | undefined) => `${figure(value)} ${row.unit}`.trim();
		const { control, floor, kind, limit } = row;
		const beside =
			control !== undefined
				? `, control ${inUnit(control)}`
				: floor !== undefined
					? `, floor ${inUnit(floor)}`
					: '';
		const allowed =
			control !== undefined
				? `at most ${inUnit(limit)} ${kind === 'least' ? 'under' : 'over'} control`
				: floor !== undefined
					? `at most ${figure(limit)} times the floor`
					: `${limitWords[kind]} ${inUnit(limit)}`;
		return [
			row.row + (row.note ? ` (${row.note})` : ''),
			inUnit(row.measured) + beside,
			allowed,
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
