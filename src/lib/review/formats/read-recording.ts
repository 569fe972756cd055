import { cellsOf, mostCsvCharacters, parseCsv, refused, type CsvAnswer } from '../csv-import';
import { tableColumns } from '../register-csv';
import { readRrText } from './read-rr-text';
import { readSessionCsv } from './read-session-csv';

/**
 * Reads a file with a recording: a session's own table, RR intervals as plain text, or any table with a time and a heart
 * rate in each row.
 *
 * @param rateAt where the answer asked which column is the heart rate, its place
 */
export function readRecording(text: string, rateAt?: number): CsvAnswer {
	if (text.length > mostCsvCharacters)
		return refused('The file is larger than any recording can be, so it was not read.');
	if (isRegister(text))
		return refused(
			'This is the register of a squad, not a recording. It is taken in under Squad, Register as a table.'
		);
	return readSessionCsv(text) ?? readRrText(text) ?? parseCsv(text, rateAt);
}

/** Known by the header that the page itself writes. */
function isRegister(text: string): boolean {
	const header = /^\uFEFF?([^\r\n]{0,200})/.exec(text)?.[1] ?? '';
	return cellsOf(header, ',').join() === tableColumns.join();
}
