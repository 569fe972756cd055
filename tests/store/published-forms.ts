import { toJsonSchema, toJsonSchemaDefs, type ConversionConfig } from '@valibot/to-json-schema';
import type { GenericSchema } from 'valibot';
import { format, resolveConfig } from 'prettier';
import { DocComments, type Json } from './doc-comments';
import { athleteSchema } from '$lib/record/athlete';
import { recordBodySchema } from '$lib/record/body';
import { bpmSchema, daySchema, idSchema, instantSchema, recordVersion } from '$lib/record/check';
import { dayEntrySchema, trainingDaySchema } from '$lib/record/day';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema } from '$lib/record/head';
import { kinds, settingKinds, staysHere, type Kind } from '$lib/record/kinds';
import { bellSettingsSchema } from '$lib/record/settings';
import { activitySchema, planSchema, postureSchema } from '$lib/rounds/plan-schema';
import { backupFormat, backupVersion, mostEntries } from '$lib/store/backup/form';
import { fileColumns, sessionFormat } from '$lib/store/export';
import { columns, mostInList } from '$lib/store/plain-json';

/*
 * The published forms of a backup and of a session, made from the schemas that check what is kept and from the doc
 * comments that stand beside their members. What no JSON Schema can say is left out: that an instant is one of the
 * calendar, that the columns of a body belong together, and that a value lies under its own key.
 */

const comments = new DocComments([
	'src/lib/rounds/plan.ts',
	'src/lib/bell/settings.ts',
	...[
		'athlete',
		'blow',
		'body',
		'body-members',
		'bout',
		'check',
		'day',
		'edit',
		'fuel',
		'head',
		'kinds',
		'lock'
	].map((name) => `src/lib/record/${name}.ts`)
]);

const columnNames = Object.keys(columns) as (keyof typeof columns)[];

const config: ConversionConfig = {
	target: 'draft-2020-12',
	// JSON has no other numbers than finite ones; the rest see above.
	ignoreActions: ['check', 'raw_check', 'finite', 'trim'],
	// A column is an object with one member that names its width.
	overrideSchema: ({ valibotSchema }) => {
		const name = columnNames.find(
			(one) => 'class' in valibotSchema && valibotSchema.class === columns[one].of
		);
		return name && { $ref: `#/$defs/${name}` };
	},
	// Formats are checked by few validators, patterns by all.
	overrideAction: ({ valibotAction, jsonSchema }) => {
		const { format, ...others } = jsonSchema;
		const { requirement } = valibotAction as { requirement?: unknown };
		return format && requirement instanceof RegExp ? { ...others, pattern: requirement.source } : undefined;
	}
};

const shared = {
	id: idSchema,
	bpm: bpmSchema,
	instant: instantSchema,
	day: daySchema,
	posture: postureSchema,
	activity: activitySchema,
	plan: planSchema,
	head: recordHeadSchema,
	edit: recordEditSchema
};
const backupOnly = {
	body: recordBodySchema,
	athlete: athleteSchema,
	entry: dayEntrySchema,
	bell: bellSettingsSchema
};

/** Where the doc comments of a definition stand. */
const sources: Record<string, string> = {
	instant: 'instantSchema',
	day: 'daySchema',
	plan: 'Plan',
	head: 'recordHeadSchema',
	edit: 'recordEditSchema',
	body: 'columnsSchema',
	athlete: 'athleteSchema',
	entry: 'dayEntrySchema',
	bell: 'BellSettings'
};

function definitionsOf(schemas: Record<string, GenericSchema>): Record<string, Json> {
	const made = toJsonSchemaDefs(schemas, config) as Record<string, Json>;
	for (const [name, form] of Object.entries(made)) {
		const source = sources[name];
		if (source) comments.describe(form, source);
	}
	return made;
}

const wholeNumbers = (most: number) => ({ type: 'integer', minimum: 0, maximum: most });

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

const formOf = (schema: GenericSchema): Json => {
	const {
		$schema: _,
		$defs: __,
		...form
	} = toJsonSchema(schema, {
		...config,
		definitions: { ...shared, ...backupOnly }
	});
	return form as Json;
};

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

const draft = 'https://json-schema.org/draft/2020-12/schema';

function backupForm(): Json {
	const later = Object.keys(kinds).filter((name) => kinds[name]!.isLater);
	return {
		$schema: draft,
		$id: `urn:corner-minute:backup:${backupVersion}`,
		title: `Corner Minute backup, form ${backupVersion}`,
		description:
			'Everything that one browser keeps, except sessions that still run: a list of pairs of key and value, as they lie in its database. Times in ms are elapsed milliseconds since Start was pressed, pauses included, except deletedAtMs. Absent members are unknown; unknown members are carried along when a backup is restored. Every head has its body, and every body, edit and tombstone its head; no key is there twice.',
		type: 'object',
		required: ['format', 'version', 'madeAt', 'entries'],
		properties: {
			format: { const: backupFormat },
			version: { const: backupVersion },
			madeAt: { $ref: '#/$defs/instant' },
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

/** Without a member that stands elsewhere in the file. */
function without(form: Json, name: string): Json {
	const { [name]: _, ...properties } = form.properties!;
	return { ...form, required: (form.required as string[]).filter((one) => one !== name), properties };
}

/** A session goes to other programs: what is not described is not in the form. */
function closed<T>(form: T): T {
	if (Array.isArray(form)) return form.map(closed) as T;
	if (typeof form !== 'object' || form === null) return form;
	const parts = Object.fromEntries(
		Object.entries(form).map(([name, part]) => [name, closed(part as unknown)])
	);
	const isClosed = 'properties' in parts && parts.type === 'object';
	return { ...parts, ...(isClosed && { additionalProperties: false }) } as T;
}

function readings(): Json {
	const body = without(definitionsOf(backupOnly).body!, 'version');
	// Contact 1, 2 or 3, and 4 more where energy was sent: what else fits the column is refused with it.
	const flags = [1, 2, 3, 5, 6, 7];
	const lists = Object.entries(fileColumns).map(([name, [most, mostEntries]]): [string, Json] => {
		const { description } = body.properties![name]!;
		const items = name === 'flags' ? { enum: flags } : wholeNumbers(most);
		return [name, { type: 'array', ...(description && { description }), maxItems: mostEntries, items }];
	});
	return { ...body, properties: { firstMs: body.properties!.firstMs!, ...Object.fromEntries(lists) } };
}

function sessionForm(): Json {
	const { head, edit, day: _, instant, ...defs } = definitionsOf(shared);
	return closed({
		$schema: draft,
		$id: `urn:corner-minute:session:${recordVersion}`,
		title: `Corner Minute session, form ${recordVersion}`,
		description:
			"One athlete's session: what was planned, what became of it, and every heart-rate reading. Times in ms are elapsed milliseconds since Start was pressed, pauses included; readings from before Start are negative. The wall clock stands only in head.startedAt. Absent members are unknown.",
		type: 'object',
		required: ['format', 'version', 'head', 'readings', 'edit'],
		properties: {
			format: { const: sessionFormat },
			version: { const: recordVersion },
			sha256: {
				type: 'string',
				pattern: '^[0-9a-f]{64}$',
				description:
					'Only in a shared folder, and there the last member: SHA-256, in hexadecimal, of all bytes of the file before the comma in front of it. A file without it is not whole yet.'
			},
			head: without(head!, 'version'),
			readings: readings(),
			edit: without(edit!, 'at')
		},
		$defs: { ...defs, instant: instant! }
	});
}

/** The text of each published form, by the name of its file in static/. */
export async function publishedForms(): Promise<Record<string, string>> {
	const forms = { 'backup.schema.json': backupForm(), 'session.schema.json': sessionForm() };
	const options = { ...(await resolveConfig('static/backup.schema.json')), parser: 'json' };
	const needsNothing = (name: string, part: unknown) =>
		name === 'required' && (part as string[]).length === 0;
	const texts = Object.entries(forms).map(async ([name, form]) => {
		const text = JSON.stringify(form, (key, part: unknown) => (needsNothing(key, part) ? undefined : part));
		return [name, await format(text, options)];
	});
	return Object.fromEntries(await Promise.all(texts)) as Record<string, string>;
}
