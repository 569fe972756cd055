import { activities } from '$lib/rounds/plan';
import type { SessionColumn } from '$lib/review/formats/session-csv';
import { sessionColumns } from '$lib/review/formats/session-csv';
import { tableColumns, type TableColumn } from '$lib/review/register-csv';

/** A field of a Table Schema 2.0 (datapackage.org), as far as it is needed here. */
export interface TableField {
	type: 'string' | 'number' | 'integer' | 'boolean' | 'date';
	description: string;
	constraints?: {
		required?: true;
		minimum?: number;
		maximum?: number;
		enum?: readonly string[];
		pattern?: string;
	};
}

const in16Bits = { minimum: 0, maximum: 0xffff };

const sessionFields: Record<SessionColumn, TableField> = {
	elapsed_s: {
		type: 'number',
		description:
			'Seconds since Start was pressed, pauses included, to the millisecond. Negative before Start. Rows stand in order of arrival.',
		constraints: { required: true }
	},
	phase: {
		type: 'string',
		description: 'The stretch of the session in which the packet came; empty outside all of them.',
		constraints: { enum: ['warm-up', 'get ready', 'work', 'rest', 'closing', 'cool-down'] }
	},
	round: {
		type: 'integer',
		description:
			'Work: its number. Rest and closing: the round just boxed. Get ready: the round it leads to.',
		constraints: { minimum: 0 }
	},
	bpm: {
		type: 'integer',
		description: 'Heart rate as the strap sent it, beats a minute. 0 where the strap had none.',
		constraints: { required: true, ...in16Bits }
	},
	contact: {
		type: 'string',
		description: 'What the strap says of contact with the skin.',
		constraints: { required: true, enum: ['not supported', 'no contact', 'contact'] }
	},
	rr_ms: {
		// The text of the standard has lists, its published profile has none.
		type: 'string',
		description:
			'RR intervals of the packet, milliseconds, oldest first, a blank between them. Empty where it had none.',
		constraints: { pattern: '^\\d+\\.\\d( \\d+\\.\\d)*$' }
	},
	phase_s: {
		type: 'number',
		description: 'Seconds since the phase began, pauses included, to the millisecond.',
		constraints: { minimum: 0 }
	},
	paused: { type: 'boolean', description: 'Whether the clock of the session stood.' },
	activity: { type: 'string', description: 'What was done.', constraints: { enum: activities } },
	energy_kj: {
		type: 'integer',
		description: 'Energy that the strap has counted since its reset, kilojoules. Empty where it sent none.',
		constraints: in16Bits
	},
	simulated: {
		type: 'boolean',
		description:
			'Whether the session was made by a simulated strap, if only in part: then it is of no heart.',
		constraints: { required: true }
	}
};

const registerFields: Record<TableColumn, TableField> = {
	day: { type: 'date', description: 'Day of the training.', constraints: { required: true } },
	athlete: {
		type: 'string',
		description: 'Name or alias. One that a spreadsheet would take for a formula begins with an apostrophe.',
		constraints: { required: true }
	},
	minutes: {
		type: 'integer',
		description: 'How long it was. Empty on a day of rest.',
		constraints: { minimum: 1 }
	},
	activity: {
		type: 'string',
		description: 'What was done; "rest" on a day of rest.',
		constraints: { required: true }
	},
	effort: {
		type: 'number',
		description: 'How hard it felt, 0 to 10. Empty where nobody has said.',
		constraints: { minimum: 0, maximum: 10 }
	}
};

const tableSchema = <Column extends string>(
	columns: readonly Column[],
	fields: Record<Column, TableField>
) => ({
	$schema: 'https://datapackage.org/profiles/2.0/tableschema.json',
	fields: columns.map((name) => ({ name, ...fields[name] })),
	missingValues: ['']
});

/** The Table Schema of every table that the page writes, by the name of its file in static/. */
export const tableForms = {
	'session-csv.tableschema.json': tableSchema(sessionColumns, sessionFields),
	'register-csv.tableschema.json': tableSchema(tableColumns, registerFields)
};
