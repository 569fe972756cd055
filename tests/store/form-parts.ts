import { toJsonSchema, toJsonSchemaDefs, type ConversionConfig } from '@valibot/to-json-schema';
import type { GenericSchema } from 'valibot';
import { DocComments, type Json } from './doc-comments';
import { athleteSchema } from '$lib/record/athlete';
import { recordBodySchema } from '$lib/record/body';
import { bpmSchema, daySchema, idSchema, instantSchema } from '$lib/record/check';
import { dayEntrySchema } from '$lib/record/day';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema } from '$lib/record/head';
import { bellSettingsSchema } from '$lib/record/settings';
import { activitySchema, aimSchema, blockSchema, planSchema, postureSchema } from '$lib/rounds/plan-schema';
import { columns } from '$lib/store/plain-json';

/* What the published forms of a backup and of a session are put together of. */

export const comments = new DocComments([
	'src/lib/rounds/plan.ts',
	'src/lib/bell/settings.ts',
	...[
		'athlete',
		'athlete-numbers',
		'blow',
		'body',
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

export const columnNames = Object.keys(columns) as (keyof typeof columns)[];

export const config: ConversionConfig = {
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

export const shared = {
	id: idSchema,
	bpm: bpmSchema,
	instant: instantSchema,
	day: daySchema,
	posture: postureSchema,
	activity: activitySchema,
	aim: aimSchema,
	block: blockSchema,
	plan: planSchema,
	head: recordHeadSchema,
	edit: recordEditSchema
};
export const backupOnly = {
	body: recordBodySchema,
	athlete: athleteSchema,
	entry: dayEntrySchema,
	bell: bellSettingsSchema
};

/** Where the doc comments of a definition stand. */
const sources: Record<string, string> = {
	instant: 'instantSchema',
	day: 'daySchema',
	block: 'Block',
	plan: 'Plan',
	head: 'recordHeadSchema',
	edit: 'recordEditSchema',
	body: 'columnsSchema',
	athlete: 'athleteSchema',
	entry: 'dayEntrySchema',
	bell: 'BellSettings'
};

export function definitionsOf(schemas: Record<string, GenericSchema>): Record<string, Json> {
	const made = toJsonSchemaDefs(schemas, config) as Record<string, Json>;
	for (const [name, form] of Object.entries(made)) {
		const source = sources[name];
		if (source) comments.describe(form, source);
		// What a plan says of rounds is its first block.
		if (name === 'plan') comments.describe(form, 'Block');
	}
	return made;
}

export const formOf = (schema: GenericSchema): Json => {
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

export const wholeNumbers = (most: number) => ({ type: 'integer', minimum: 0, maximum: most });

export const draft = 'https://json-schema.org/draft/2020-12/schema';
