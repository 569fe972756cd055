import { recordVersion, type Checked } from './check';

/** A head or a body in some form, with `version` among its members. */
export type Form = Record<string, unknown>;

/** One step: from the form `from` to the next one. Neither function changes what it is given. */
export interface Migration {
	from: number;
	head(old: Form): Form;
	body(old: Form): Form;
}

/** Every step ever needed, oldest first. Form 1 is the first, so there is none yet. */
const allMigrations: readonly Migration[] = [];

/**
 * A head or body as this page knows it, led there step by step from the form it was written in. What has no
 * version, this version or a newer one comes back as it is, because the schema has the word on it. Never
 * throws: what a step cannot read is a problem in words.
 */
export function migrated(
	part: 'head' | 'body',
	stored: unknown,
	migrations: readonly Migration[] = allMigrations
): Checked<unknown> {
	let form = stored;
	for (;;) {
		const version = versionOf(form);
		if (version === undefined || version >= recordVersion) return { value: form };
		const step = migrations.find(({ from }) => from === version);
		if (!step) return { problem: `It has the form ${version}, which no version of this page ever wrote.` };
		try {
			form = { ...step[part](form as Form), version: version + 1 };
		} catch {
			return { problem: `It is damaged: it could not be read as form ${version}.` };
		}
	}
}

function versionOf(form: unknown): number | undefined {
	const version = typeof form === 'object' && form && 'version' in form ? form.version : undefined;
	return Number.isInteger(version) ? (version as number) : undefined;
}
