import type { Json } from './doc-comments';
import { backupOnly, definitionsOf, draft, shared, wholeNumbers } from './form-parts';
import { blocksVersion, recordVersion } from '$lib/record/check';
import { fileColumns, sessionFormat } from '$lib/store/export';

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

export function sessionForm(): Json {
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
			version: { enum: [recordVersion, blocksVersion] },
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
