import type { GenericSchema } from 'valibot';
import { entriesUnder, read, storable, valueAt, write, type Unreadable, type UseStore } from './database';
import { enter } from './entered';
import { check } from '$lib/record/check';
import { planSchema } from '$lib/rounds/plan-schema';
import { settingSchemas, type Settings } from '$lib/record/settings';
import type { RecordHead } from '$lib/record/head';

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

export interface OwnPlan {
	id: string;
	plan: RecordHead['plan'];
}

const planPrefix = 'plan/';

/** The athlete's own plans by name. What cannot be read is named and stays. Rejects with `StoreError`. */
export async function listPlans(store: UseStore): Promise<{ plans: OwnPlan[]; unreadable: Unreadable[] }> {
	const plans: OwnPlan[] = [];
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of await read(store, (objects) => entriesUnder(objects, planPrefix))) {
		const { value: plan, problem } = check(planSchema, stored);
		if (plan) plans.push({ id: key.slice(planPrefix.length), plan });
		else unreadable.push({ key, problem });
	}
	plans.sort((a, b) => a.plan.name.localeCompare(b.plan.name));
	return { plans, unreadable };
}

/** Keeps a plan, in place of the one with the same id. Rejects with `StoreError`. */
export async function savePlan(store: UseStore, { id, plan }: OwnPlan): Promise<void> {
	const stored = storable(planSchema, plan, 'The plan');
	await write(store, (objects) => enter(objects, planPrefix + id, stored, Date.now()));
}

export function deletePlan(store: UseStore, id: string): Promise<void> {
	return write(store, (objects) => enter(objects, planPrefix + id, undefined, Date.now()));
}
