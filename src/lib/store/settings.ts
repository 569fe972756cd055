import type { GenericSchema } from 'valibot';
import { read, storable, valueAt, write, type UseStore } from './database';
import { enter } from './entered';
import { check } from '$lib/record/check';
import { settingSchemas, type Settings } from '$lib/record/settings';

const settingKey = (name: keyof Settings) => `setting/${name}`;

/**
 * A setting, or the fallback where none was ever set. One that cannot be read gives the fallback too, with
 * the reason in `problem`; it stays as it is until it is set again. Rejects with `StoreError`.
 */
export async function getSetting<Name extends keyof Settings, Fallback>(
	store: UseStore,
	name: Name,
	fallback: Fallback
): Promise<{ value: Settings[Name] | Fallback; problem?: string }> {
	const stored = await read(store, (objects) => valueAt(objects, settingKey(name)));
	if (stored === undefined) return { value: fallback };
	const { value, problem } = check(schemaOf(name), stored);
	return problem === undefined ? { value } : { value: fallback, problem };
}

/** Rejects with `StoreError`, also for a value that could not be read back. */
export async function setSetting<Name extends keyof Settings>(
	store: UseStore,
	name: Name,
	value: Settings[Name]
): Promise<void> {
	const stored = storable(schemaOf(name), value, `The setting "${name}"`);
	await write(store, (objects) => enter(objects, settingKey(name), stored, Date.now()));
}

// The compiler cannot see that the table's entry and the type's member of one name belong together.
function schemaOf<Name extends keyof Settings>(name: Name) {
	return settingSchemas[name] as unknown as GenericSchema<unknown, Settings[Name]>;
}
