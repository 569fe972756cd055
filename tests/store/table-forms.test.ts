import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { boxed } from '../review/formats/boxed';
import { padsPlan } from './builders';
import { tableForms, type TableField } from './table-forms';
import { csvText } from '$lib/review/formats/csv-text';
import { sessionCsv } from '$lib/review/formats/session-csv';
import { registerTable } from '$lib/review/register-csv';
import type { RegisterRow } from '$lib/review/register';

// The publisher's own profile, Table Schema 2.0; tests/fixtures/frictionless/README.md says whence.
const profile = JSON.parse(readFileSync('tests/fixtures/frictionless/tableschema.json', 'utf8')) as object;
const isTableSchema = new Ajv({ strict: false }).compile(profile);

type Form = { fields: ({ name: string } & TableField)[] };
const names = Object.keys(tableForms) as (keyof typeof tableForms)[];
const formOf = (name: keyof typeof tableForms) => JSON.parse(JSON.stringify(tableForms[name])) as Form;

/** Whether a cell is one of its field, by "Field Types" and "Field Constraints" of Table Schema 2.0. */
function isOf({ type, constraints = {} }: TableField, cell: string): boolean {
	if (cell === '') return !constraints.required;
	const { minimum = -Infinity, maximum = Infinity } = constraints;
	const isWithin = Number(cell) >= minimum && Number(cell) <= maximum;
	switch (type) {
		case 'number':
			return /^[+-]?\d+(\.\d+)?$/.test(cell) && isWithin;
		case 'integer':
			return /^[+-]?\d+$/.test(cell) && isWithin;
		case 'boolean':
			return ['true', 'True', 'TRUE', '1', 'false', 'False', 'FALSE', '0'].includes(cell);
		case 'date':
			return /^\d{4}-\d\d-\d\d$/.test(cell);
		case 'string':
			return (constraints.enum?.includes(cell) ?? true) && new RegExp(constraints.pattern ?? '').test(cell);
	}
}

function expectTable(text: string, { fields }: Form) {
	const [header, ...rows] = text
		.trimEnd()
		.split('\r\n')
		.map((row) => row.split(','));
	// Fields match by number and order unless told otherwise.
	expect(header).toEqual(fields.map(({ name }) => name));
	for (const row of rows) {
		expect(row).toHaveLength(fields.length);
		expect(fields.filter((field, i) => !isOf(field, row[i]!)).map(({ name }) => name)).toEqual([]);
	}
	return rows.length;
}

describe('the description of a table', () => {
	it.each(names)("is a Table Schema by the publisher's profile: %s", (name) => {
		isTableSchema(formOf(name));
		expect(isTableSchema.errors).toBeNull();
	});

	it.each(['fields', 'type', 'name'])('would be none with a wrong %s', (part) => {
		const form = formOf('session-csv.tableschema.json');
		const wrong = part === 'fields' ? { fields: [] } : { fields: [{ ...form.fields[5], [part]: 7 }] };
		expect(isTableSchema(wrong)).toBe(false);
	});

	it('holds of the table of a session, from before Start to its end', () => {
		const plan = { ...padsPlan, roundCount: 2 };
		const record = boxed({
			plan,
			amendments: [
				{ kind: 'pause', atMs: 60_000 },
				{ kind: 'resume', atMs: 70_000 }
			],
			endedMs: 620_000,
			practice: true
		});
		expect(expectTable(sessionCsv(record), formOf('session-csv.tableschema.json'))).toBeGreaterThan(600);
	});

	it('holds of the table of the register', () => {
		const row = (overrides: Partial<RegisterRow>): { date: string; row: RegisterRow } => ({
			date: '2026-03-02',
			row: { name: 'Nerea', isKnown: true, isRest: false, trainings: [], ...overrides } as RegisterRow
		});
		const trainings = [{ activity: 'pads', minutes: 61.4, effort: 6.5 }] as RegisterRow['trainings'];
		const text = csvText(registerTable([row({ trainings }), row({ isRest: true })]));
		expect(expectTable(text, formOf('register-csv.tableschema.json'))).toBe(2);
	});
});
