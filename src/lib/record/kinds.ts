import * as v from 'valibot';
import { recordBodySchema } from './body';
import { registersSchema } from './registers';
import { dateSchema, goalSchema, kcalSchema, kgSchema } from './fuel';
import { checkedDay } from './day';
import { migrated } from './migrations';
import { athleteSchema } from './athlete';
import { check, idSchema, type Checked } from './check';
import { planSchema } from '$lib/rounds/plan-schema';
import { recordEditSchema } from './edit';
import { recordHeadSchema } from './head';
import { settingSchemas } from './settings';

/** What stays in one browser: a session that runs, what is known of the shared folder, and what a later version marks so. */
const stayingKinds = ['journal', 'folder', 'shared'];
const stayingKeys = ['setting/lastBackupAt', 'stamp/setting/lastBackupAt'];

export const staysHere = (key: string) =>
	stayingKinds.includes(key.split('/')[0] ?? '') || stayingKeys.includes(key) || key.startsWith('here-');

const instantSchema = v.pipe(v.string(), v.isoTimestamp());
const deletedAtSchema = v.pipe(v.number(), v.finite());
const goneSchema = v.object({
	athlete: athleteSchema,
	sessionIds: v.array(idSchema),
	deletedAtMs: deletedAtSchema
});

type Check = (stored: unknown, id: string, more: string | undefined) => Checked<unknown>;

/** Every kind of entry that travels from browser to browser, by the first part of its key, with its check. */
const kinds: Record<string, Check> = {
	head: (stored, id, more) => {
		const { value: form, problem } = migrated('head', memberOf(stored, 'head'));
		if (problem !== undefined) return { problem };
		const head = check(recordHeadSchema, form);
		if (!head.value) return { problem: head.problem };
		// The summary beside it is a cache: it is computed afresh from what is restored.
		return owned({ head: head.value }, head.value.id === id && more === undefined);
	},
	body: (stored, _, more) => {
		const { value: form, problem } = migrated('body', stored);
		return problem === undefined ? only(check(recordBodySchema, form), more) : { problem };
	},
	edit: (stored, _, more) => {
		const edit = check(recordEditSchema, stored);
		return edit.value ? owned(edit.value, edit.value.at === more) : edit;
	},
	tombstone: (stored, _, more) => only(check(v.object({ deletedAtMs: deletedAtSchema }), stored), more),
	athlete: (stored, id, more) => {
		const athlete = check(athleteSchema, stored);
		return athlete.value ? owned(athlete.value, athlete.value.id === id && more === undefined) : athlete;
	},
	'gone-athlete': (stored, id, more) => {
		const gone = check(goneSchema, stored);
		return gone.value ? owned(gone.value, gone.value.athlete.id === id && more === undefined) : gone;
	},
	plan: (stored, _, more) => only(check(planSchema, stored), more),
	setting: (stored, id, more) =>
		Object.hasOwn(settingSchemas, id)
			? only(check(settingSchemas[id as keyof typeof settingSchemas] as v.GenericSchema, stored), more)
			: { problem: 'This page has no such setting.' },
	weight: (stored, _, more) => onDay(check(kgSchema, stored), more),
	intake: (stored, _, more) => onDay(check(kcalSchema, stored), more),
	goal: (stored, _, more) => {
		const goal = check(goalSchema, stored);
		return goal.value ? owned(goal.value, more === 'weight') : goal;
	},
	day: (stored, _, more) => onDay(checkedDay(stored), more),
	'card-state': (stored, _, more) => only(check(registersSchema, stored), more),
	stamp: (stored) => check(v.looseObject({ at: instantSchema }), stored)
};

export const backedUpKinds = Object.keys(kinds);

/** Kinds that every version of this page knows; those that came later stand apart in a backup, where an older one passes them over. */
const laterKinds = ['card-state', 'stamp', 'day'];

/** Whether a page of any version can take in an entry. */
export const isKnownToAll = (key: string) => {
	const [kind = '', id = ''] = key.split('/');
	return (
		Object.hasOwn(kinds, kind) &&
		!laterKinds.includes(kind) &&
		(kind !== 'setting' || Object.hasOwn(settingSchemas, id))
	);
};

/** Whether a page knows what an entry is: one of a later version is carried along as it is. */
export const isKnown = (key: string) => laterKinds.includes(key.split('/')[0] ?? '') || isKnownToAll(key);

/** A stored entry as it travels, led to today's form. Never throws. */
export function checkedEntry(key: string, stored: unknown): Checked<unknown> {
	const [kind = '', id = '', ...rest] = key.split('/');
	const more = rest.length > 0 ? rest.join('/') : undefined;
	if (!Object.hasOwn(kinds, kind) || (rest.length > 1 && kind !== 'stamp'))
		return { problem: 'This page knows no entries of this kind.' };
	if (!v.is(idSchema, id)) return { problem: 'Its key has no proper id.' };
	return kinds[kind]!(stored, id, more);
}

function owned<T>(value: T, isUnderItsKey: boolean): Checked<T> {
	return isUnderItsKey ? { value } : { problem: 'It lies under a key that is not its own.' };
}

function only<T>(checked: Checked<T>, more: string | undefined): Checked<T> {
	return checked.problem === undefined ? owned(checked.value, more === undefined) : checked;
}

function onDay<T>(checked: Checked<T>, day: string | undefined): Checked<T> {
	return checked.problem === undefined ? owned(checked.value, v.is(dateSchema, day)) : checked;
}

/** A member of what may be anything. */
export function memberOf(value: unknown, name: string): unknown {
	return typeof value === 'object' && value !== null && Object.hasOwn(value, name)
		? (value as Record<string, unknown>)[name]
		: undefined;
}
