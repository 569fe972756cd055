import fc from '../../by-chance';
import { describe, expect, it } from 'vitest';
import { csvText, plainCell } from '$lib/review/formats/csv-text';

/** Fields of RFC 4180 text, read by its grammar (section 2): records end in CRLF, a doubled quote is one. */
function parseCsv(text: string): string[][] {
	const field = /("(?:[^"]|"")*"|[^",\r\n]*)(,|\r\n)/y;
	const rows: string[][] = [[]];
	while (field.lastIndex < text.length) {
		const match = field.exec(text);
		if (!match) throw new Error('not RFC 4180');
		const [, raw = '', end] = match;
		rows.at(-1)!.push(raw.startsWith('"') ? raw.slice(1, -1).replaceAll('""', '"') : raw);
		if (end !== ',') rows.push([]);
	}
	return rows.slice(0, -1);
}

describe('rows as CSV', () => {
	it.each([
		// Examples of RFC 4180, section 2, rules 5 to 7.
		[['aaa', 'bbb', 'ccc'], 'aaa,bbb,ccc\r\n'],
		[['aaa', 'b\r\nbb', 'ccc'], 'aaa,"b\r\nbb",ccc\r\n'],
		[['aaa', 'b"bb', 'ccc'], 'aaa,"b""bb",ccc\r\n'],
		[['a,b', undefined, 0], '"a,b",,0\r\n']
	])('quotes as RFC 4180 says: %j', (row, text) => {
		expect(csvText([row])).toBe(text);
	});

	// The list of OWASP's page on CSV injection, from memory.
	it.each([
		'=1+1',
		'+1',
		'-1',
		'@SUM(A1)',
		'\tx',
		'\rx',
		'\n=1',
		'\uff1d1',
		'\uff0b1',
		'\uff0d1',
		'\uff20A1'
	])('makes the text %j harmless to a spreadsheet', (text) => {
		expect(parseCsv(csvText([[text]]))).toEqual([[`'${text}`]]);
	});

	it('leaves no way to a cell of its own behind a separator of another kind', () => {
		expect(csvText([['a;=1+1', 'b\t=1+1']])).toBe('"a;=1+1","b\t=1+1"\r\n');
	});

	it('leaves numbers numbers, negative ones too', () => {
		expect(csvText([[-1.5, 3, -0.001]])).toBe('-1.5,3,-0.001\r\n');
	});

	it('can be read by the grammar of RFC 4180, whatever text is in it', () => {
		const rows = fc.array(fc.array(fc.string({ unit: 'binary' }), { minLength: 2, maxLength: 5 }), {
			minLength: 1,
			maxLength: 5
		});
		fc.assert(
			fc.property(rows, (given) => {
				const harmless = given.map((row) =>
					row.map((cell) => (/^'*[=+\-@\t\r\n＝＋－＠]/.test(cell) ? `'${cell}` : cell))
				);
				const cells = parseCsv(csvText(given));
				expect(cells).toEqual(harmless);
				expect(cells.map((row) => row.map(plainCell))).toEqual(given);
			})
		);
	});
});
