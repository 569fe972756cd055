import { toJsonSchema } from '@valibot/to-json-schema';
import type { Json } from './doc-comments';
import {
	backupOnly,
	columnNames,
	comments,
	config,
	definitionsOf,
	draft,
	formOf,
	shared,
	wholeNumbers
} from './form-parts';
import { idSchema } from '$lib/record/check';
import { trainingDaySchema } from '$lib/record/day';
import { kinds, settingKinds, staysHere, type Kind } from '$lib/record/kinds';
import { backupFormat, backupPartSchema, backupVersion, mostEntries } from '$lib/store/backup/form';
import { columns, mostInList } from '$lib/store/plain-json';

const column = (name: keyof typeof columns): Json => ({
	type: 'object',
	required: [name],
	additionalProperties: false,
	properties: { [name]: { type: 'array', maxItems: mostInList, items: wholeNumbers(columns[name].most) } }
});

/** What one kind of entry looks like in the list of a backup. */
function pairOf(key: string, value: Json): Json {
	const prefixItems = [{ type: 'string', pattern: `^${key}$` }, value];
	return { type: 'array', prefixItems, items: false, minItems: 2 };
}

const inner = (pattern: unknown) => String(pattern).replace(/^\^|\$$/g, '');
const id = inner(toJsonSchema(idSchema, config).pattern);

function keyOf(name: string, { more }: Kind): string {
	if (!more) return `${name}/${id}`;
	if (more.type === 'optional') return `${name}/${id}(/.*)?`;
	const { pattern, const: only } = toJsonSchema(more, config);
	return `${name}/${id}/${only === undefined ? inner(pattern) : String(only)}`;
}

function kindsOf(isLater: boolean): Json[] {
	return Object.entries(kinds)
		.filter(([, kind]) => (kind.isLater ?? false) === isLater)
		.map(([name, kind]) => {
			const value = name === 'day' ? dayForm(formOf(kind.schema)) : formOf(kind.schema);
			const pair = pairOf(keyOf(name, kind), value);
			comments.describeMember(pair, value, 'kinds', name);
			return pair;
		});
}

/** What a training day says under each of its registers; those that this page does not know may say anything. */
function dayForm(registers: Json): Json {
	const { entries: _, ...ticks } = comments.describe(
		formOf(trainingDaySchema),
		'trainingDaySchema'
	).properties!;
	const saying = (value: Json) => ({ type: 'array', items: { type: 'object', properties: { value } } });
	const properties = Object.fromEntries(Object.entries(ticks).map(([name, form]) => [name, saying(form)]));
	const patternProperties = { '^entries/': saying({ $ref: '#/$defs/entry' }) };
	return { allOf: [registers, { type: 'object', properties, patternProperties }] };
}

/** Settings that an earlier version of this page kept; they are carried along. */
const formerSettings = { strapName: { type: 'string' } };

/** A pair for all settings of one form. */
function settings(): Json[] {
	const travelling = Object.entries(settingKinds).filter(([name]) => !staysHere(`setting/${name}`));
	const forms: [string, Json][] = [
		...travelling.map(([name, { schema }]): [string, Json] => [name, formOf(schema)]),
		...Object.entries(formerSettings)
	];
	const namesOf = new Map<string, string[]>();
	for (const [name, form] of forms) {
		const text = JSON.stringify(form);
		namesOf.set(text, [...(namesOf.get(text) ?? []), name]);
	}
	return Array.from(namesOf, ([text, names]) =>
		pairOf(`setting/(${names.join('|')})`, JSON.parse(text) as Json)
	);
}

export function backupForm(): Json {
	const later = Object.keys(kinds).filter((name) => kinds[name]!.isLater);
	return {
		$schema: draft,
		$id: `urn:corner-minute:backup:${backupVersion}`,
		title: `Corner Minute backup, form ${backupVersion}`,
		description:
			'Everything that one browser keeps, or one part of it, except sessions that still run: a list of pairs of key and value, as they lie in its database. Times in ms are elapsed milliseconds since Start was pressed, pauses included, except deletedAtMs. Absent members are unknown; unknown members are carried along when a backup is restored. Every head has its body, and every body, edit and tombstone its head; no key is there twice.',
		type: 'object',
		required: ['format', 'version', 'madeAt', 'entries'],
		properties: {
			format: { const: backupFormat },
			version: { const: backupVersion },
			madeAt: { $ref: '#/$defs/instant' },
			part: {
				...formOf(backupPartSchema),
				description:
					'Which file it is of a backup that one file could not hold: each part is a backup by itself, all have the same madeAt, and they may be restored in any order. Absent where the file holds the whole of it.'
			},
			entries: {
				type: 'array',
				maxItems: mostEntries,
				items: { anyOf: [...kindsOf(false), ...settings()] }
			},
			more: {
				type: 'array',
				description:
					'Pairs that not every version of the page knows: one that does not know a kind carries it along.',
				maxItems: mostEntries,
				items: { anyOf: [...kindsOf(true), pairOf(`(?!(${later.join('|')})/).*`, {})] }
			}
		},
		$defs: {
			...definitionsOf({ ...shared, ...backupOnly }),
			...Object.fromEntries(columnNames.map((name) => [name, column(name)]))
		}
	};
}
