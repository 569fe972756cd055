import * as v from 'valibot';
import { entriesUnder, read, storable, valueAt, write } from './database';
import { bellSettingsSchema, check, idSchema, planSchema } from '$lib/record/record-schema';
import type { Unreadable, UseStore } from './database';
import type { RecordHead } from '$lib/record/record';

/** Every setting there is. */
export const settingSchemas = {
	lastPlan: planSchema,
	bell: bellSettingsSchema,
	/** The questions of the first visit were answered or skipped. */
	firstQuestionsAsked: v.boolean(),
	/** Who boxes now. */
	athlete: v.string(),
	/** Ids of those who stand in the corners, in order, where there are several. */
	corners: v.pipe(v.array(idSchema), v.maxLength(8)),
	units: v.picklist(['metric', 'imperial']),
	/** Dark as the ring under low light, light for bright halls, or as the system says. */
	theme: v.picklist(['dark', 'light', 'system']),
	/** Single keys act; they can be switched off (WCAG 2.2, 2.1.4). */
	hasKeys: v.boolean(),
	/** A retest is suggested after so many days. */
	retestAfterDays: v.pipe(v.number(), v.minValue(7), v.maxValue(730)),
	/** The threshold run's calls are spoken as well, where there is a voice. */
	spokenPrompts: v.boolean(),
	/** When everything here was last written to a file, ISO 8601 in UTC. */
	lastBackupAt: v.pipe(v.string(), v.isoTimestamp())
};

export type Settings = {
	[Name in keyof typeof settingSchemas]: v.InferOutput<(typeof settingSchemas)[Name]>;
};

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
	await write(store, (objects) => void objects.put(stored, settingKey(name)));
}

// The compiler cannot see that the table's entry and the type's member of one name belong together.
function schemaOf<Name extends keyof Settings>(name: Name) {
	return settingSchemas[name] as unknown as v.GenericSchema<unknown, Settings[Name]>;
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
	await write(store, (objects) => void objects.put(stored, planPrefix + id));
}

export function deletePlan(store: UseStore, id: string): Promise<void> {
	return write(store, (objects) => void objects.delete(planPrefix + id));
}
