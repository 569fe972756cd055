// What a spreadsheet may take for the beginning of a formula (OWASP, "CSV Injection", from memory): the signs, their
// full-width forms, and the blanks that are skipped before them. Behind an apostrophe too, so that one can be taken off again.
const formulaStart = /^'*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

/**
 * Rows as CSV text after RFC 4180. Text that a spreadsheet would take for a formula is made harmless with a
 * leading apostrophe; numbers, negative ones too, stay numbers. Semicolons and tabs are quoted as commas are,
 * because a spreadsheet set to those would find a cell of its own behind them.
 */
export function csvText(rows: readonly (readonly (string | number | undefined)[])[]): string {
	return rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}

function csvCell(value: string | number | undefined): string {
	if (value === undefined) return '';
	if (typeof value === 'number') return String(value);
	const harmless = formulaStart.test(value) ? `'${value}` : value;
	return /[",;\t\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** The text of a cell that `csvText` wrote, without the apostrophe that kept it from being a formula. */
export const plainCell = (cell: string): string =>
	cell.startsWith("'") && formulaStart.test(cell) ? cell.slice(1) : cell;
