/**
 * What lies in the store as JSON and back. JSON has no typed arrays: a column becomes an object with one
 * member that names the width, `{ "uint16": [1000, 1003] }`. Plain numbers rather than base64, so that the file
 * can be read without this page and on any byte order; with RR intervals an hour takes some 90 kB.
 */

export const columns = {
	uint8: { of: Uint8Array, most: 0xff },
	uint16: { of: Uint16Array, most: 0xffff },
	uint32: { of: Uint32Array, most: 0xffff_ffff }
} as const;

type ColumnName = keyof typeof columns;

// Far above anything that is kept: the deepest entry has five levels, a day with RR intervals half a million.
const deepest = 12;
const longestText = 200_000;
export const mostInList = 2_000_000;

/** JSON text of a value, columns in the form above. */
export function jsonText(value: unknown): string {
	return JSON.stringify(value, (_, member: unknown) => columnJson(member) ?? member);
}

function columnJson(value: unknown): Partial<Record<ColumnName, number[]>> | undefined {
	for (const name of Object.keys(columns) as ColumnName[])
		if (value instanceof columns[name].of) return { [name]: Array.from(value) };
	return undefined;
}

/** Text that is read may hold anything; this says what is wrong with it, in a plain sentence. */
export class Refusal extends Error {
	override readonly name = 'Refusal';
}

/**
 * What `jsonText` wrote, parsed by JSON.parse before. Makes every object anew with members of its own, so that
 * a member called `__proto__` is one like any other. Throws `Refusal` for what is too deep, too long, or no
 * column.
 */
export function revived(value: unknown, depth = 0): unknown {
	if (typeof value === 'string' && value.length > longestText)
		throw new Refusal(`A text in it is longer than ${longestText} characters.`);
	if (typeof value !== 'object' || value === null) return value;
	if (depth >= deepest) throw new Refusal(`It is nested more than ${deepest} levels deep.`);
	if (Array.isArray(value)) {
		if (value.length > mostInList) throw new Refusal(`A list in it has more than ${mostInList} entries.`);
		return value.map((entry) => revived(entry, depth + 1));
	}
	const members = Object.entries(value);
	const [first] = members;
	if (first && members.length === 1 && Object.hasOwn(columns, first[0]))
		return column(first[0] as ColumnName, first[1]);
	return Object.fromEntries(members.map(([name, member]) => [name, revived(member, depth + 1)]));
}

function column(name: ColumnName, entries: unknown): Uint8Array | Uint16Array | Uint32Array {
	const { of, most } = columns[name];
	const isEntry = (entry: unknown) =>
		Number.isInteger(entry) && (entry as number) >= 0 && (entry as number) <= most;
	if (!Array.isArray(entries) || entries.length > mostInList || !entries.every(isEntry))
		throw new Refusal(
			`A column "${name}" in it is not a list of at most ${mostInList} whole numbers from 0 to ${most}.`
		);
	return of.from(entries as number[]);
}
