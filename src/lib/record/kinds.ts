import * as v from 'valibot';
import { recordBodySchema } from './body';
import { checkedDay } from './day';
import { goalSchema, kcalSchema, kgSchema } from './fuel';
import { checkedPlanState } from './own-plan';
import { checkedPlan } from './plan';
import { registersSchema } from './registers';
import { migrated } from './migrations';
import { athleteSchema } from './athlete';
import { check, daySchema, idSchema, instantSchema, shape, type Checked } from './check';
import { planSchema } from '$lib/rounds/plan-schema';
import { recordEditSchema } from './edit';
import { recordHeadSchema } from './head';
import { settingSchemas } from './settings';

/** What stays in one browser: a session that runs, what is known of the shared folder, and what a later version marks so. */
const stayingKinds = ['journal', 'folder', 'shared'];
const stayingKeys = ['setting/lastBackupAt', 'stamp/setting/lastBackupAt'];

export const staysHere = (key: string) =>
	stayingKinds.includes(key.split('/')[0] ?? '') || stayingKeys.includes(key) || key.startsWith('here-');

/** One kind of entry: what its value looks like, and which keys it lies under. */
export interface Kind {
	readonly schema: v.GenericSchema;
	/** What follows the id in its keys; nothing where it is absent. */
	readonly more?: v.GenericSchema;
	/** Whether a value of this kind belongs under this key. */
	readonly isOwn?: (value: never, id: string, more: string | undefined) => boolean;
	/** Reads what an earlier version of this page may have written; where it is absent, the schema alone does. */
	readonly read?: (stored: unknown) => Checked<unknown>;
	/** Not every version of this page knows it: it stands apart in a backup, where an older one passes it over. */
	readonly isLater?: true;
}

const kindOf = <T>(
	schema: v.GenericSchema<unknown, T>,
	rest: Omit<Kind, 'schema' | 'isOwn'> & {
		isOwn?(value: T, id: string, more: string | undefined): boolean;
	} = {}
): Kind => ({ schema, ...rest });

const deletedAtMs = v.pipe(v.number(), v.finite());

/** Every kind of entry that travels from browser to browser, by the first part of its key; settings stand below. */
export const kinds: Readonly<Record<string, Kind>> = {
	/** A session: what was planned and what became of it. */
	head: kindOf(v.object({ head: recordHeadSchema }), {
		read: (stored) => {
			const { value: form, problem } = migrated('head', memberOf(stored, 'head'));
			if (problem !== undefined) return { problem };
			const head = check(recordHeadSchema, form);
			// The summary beside it is a cache: it is computed afresh from what is restored.
			return head.value ? { value: { head: head.value } } : head;
		},
		isOwn: ({ head }, id) => head.id === id
	}),
	/** Its readings. */
	body: kindOf(recordBodySchema, {
		read: (stored) => {
			const { value: form, problem } = migrated('body', stored);
			return problem === undefined ? check(recordBodySchema, form) : { problem };
		}
	}),
	/** What was added or put right afterwards, under the time when; the last word on each member holds. */
	edit: kindOf(recordEditSchema, { more: instantSchema, isOwn: ({ at }, _, more) => at === more }),
	/** The session was deleted and can be brought back for a day. */
	tombstone: kindOf(
		v.object({
			/** Milliseconds since 1970. */
			deletedAtMs
		})
	),
	/** Somebody's card. */
	athlete: kindOf(athleteSchema, { isOwn: (athlete, id) => athlete.id === id }),
	/** An athlete who was deleted and can be brought back for a day. */
	'gone-athlete': kindOf(
		v.object({
			athlete: athleteSchema,
			/** The sessions that went along. */
			sessionIds: v.array(idSchema),
			/** Milliseconds since 1970. */
			deletedAtMs
		}),
		{ isOwn: ({ athlete }, id) => athlete.id === id }
	),
	/** A plan of one's own. */
	plan: kindOf(planSchema, { read: checkedPlan }),
	/** Body weight of a day, kg. */
	weight: kindOf(kgSchema, { more: daySchema }),
	/** Food of a day, kcal. */
	intake: kindOf(kcalSchema, { more: daySchema }),
	/** A goal weight and the day it is wanted for. */
	goal: kindOf(goalSchema, { more: v.literal('weight') }),
	/** Who said what of a card when, by register; of each the latest word stands first. */
	'card-state': kindOf(registersSchema, { isLater: true }),
	/** Who said what of a plan when, as one register (plan); without a value where it was removed. The latest word stands first. */
	'plan-state': kindOf(registersSchema, { read: checkedPlanState, isLater: true }),
	/** Training of a day, by register (entries/<id>, rest, allTraining, allFood); of each the latest word stands first. */
	day: kindOf(registersSchema, { more: daySchema, read: checkedDay, isLater: true }),
	/** When a plan, a setting, a weight or food was entered; the key of that follows. */
	stamp: kindOf(shape({ at: v.pipe(v.string(), v.isoTimestamp()) }), {
		more: v.optional(v.string()),
		isLater: true
	})
};

export const settingKinds: Readonly<Record<string, Kind>> = Object.fromEntries(
	Object.entries(settingSchemas).map(([name, schema]) => [name, kindOf<unknown>(schema)])
);

const ofName = (all: Readonly<Record<string, Kind>>, name: string) =>
	Object.hasOwn(all, name) ? all[name] : undefined;

function kindAt(key: string): Kind | undefined {
	const [name = '', id = ''] = key.split('/');
	return name === 'setting' ? ofName(settingKinds, id) : ofName(kinds, name);
}

/** Whether a page knows what an entry is: one of a later version is carried along as it is. */
export const isKnown = (key: string) => kindAt(key) !== undefined;

/** Whether a page of any version can take in an entry. */
export const isKnownToAll = (key: string) => isKnown(key) && !kindAt(key)!.isLater;

/** A stored entry as it travels, led to today's form. Never throws. */
export function checkedEntry(key: string, stored: unknown): Checked<unknown> {
	const [name = '', id = '', ...rest] = key.split('/');
	const kind = kindAt(key);
	if (!kind)
		return {
			problem:
				name === 'setting' ? 'This page has no such setting.' : 'This page knows no entries of this kind.'
		};
	if (!v.is(idSchema, id)) return { problem: 'Its key has no proper id.' };
	const checked = kind.read ? kind.read(stored) : check(kind.schema, stored);
	if (checked.problem !== undefined) return checked;
	const more = rest.length > 0 ? rest.join('/') : undefined;
	const isUnderItsKey =
		v.is(kind.more ?? v.undefined(), more) && (kind.isOwn?.(checked.value as never, id, more) ?? true);
	return isUnderItsKey ? checked : { problem: 'It lies under a key that is not its own.' };
}

/** A member of what may be anything. */
export function memberOf(value: unknown, name: string): unknown {
	return typeof value === 'object' && value !== null && Object.hasOwn(value, name)
		? (value as Record<string, unknown>)[name]
		: undefined;
}
