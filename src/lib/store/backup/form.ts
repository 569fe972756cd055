import * as v from 'valibot';
import { dateSchema, goalSchema, kcalSchema, kgSchema } from '../fuel';
import { inBreaths, type Breathe } from '../breathe';
import { migrated, type Form } from '$lib/record/migrations';
import { jsonText, Refusal, revived } from '../plain-json';
import { settingSchemas } from '../settings';
import { recordBodySchema } from '$lib/record/body';
import {
	athleteSchema,
	check,
	idSchema,
	planSchema,
	recordEditSchema,
	recordHeadSchema
} from '$lib/record/record-schema';
import type { Checked } from '$lib/record/record-schema';

export const backupFormat = 'corner-minute backup';
export const backupVersion = 1;

/** Some years of daily training with every RR interval; a browser can still hold the text. */
export const mostBackupCharacters = 200_000_000;
const mostEntries = 200_000;

/** Where the settings that belong to this browser, not to the people in it, stay. */
export const stayingKeys: readonly string[] = ['setting/lastBackupAt'];
/** Kept by earlier versions and read by no present one: passed over in a store and in an older backup. */
export const formerKeys: readonly string[] = ['setting/strapName'];

/** A running session, and what this browser knows of the shared folder: neither belongs on another machine. */
export const stayingKinds: readonly string[] = ['journal', 'folder', 'shared'];

/** What a backup holds: keys as in the store and checked values, in order of the keys. */
export type Entries = Map<string, unknown>;

export interface Backup {
	/** ISO 8601 in UTC. */
	madeAt: string;
	entries: Entries;
}

const deletedAtSchema = v.pipe(v.number(), v.finite());
const goneSchema = v.object({
	athlete: athleteSchema,
	sessionIds: v.array(idSchema),
	deletedAtMs: deletedAtSchema
});
const instantSchema = v.pipe(v.string(), v.isoTimestamp());

/** Keys that are backed up, by their first part. What a later version adds to the store is added here. */
const kinds: Record<string, (stored: unknown, id: string, more: string | undefined) => Checked<unknown>> = {
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
	}
};

export const backedUpKinds = Object.keys(kinds);

/** A stored entry as a backup takes it, led to today's form; unknown members are left out. Never throws. */
export function checkedEntry(key: string, stored: unknown): Checked<unknown> {
	const [kind = '', id = '', more, ...rest] = key.split('/');
	if (!Object.hasOwn(kinds, kind) || rest.length > 0)
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

/** Why an entry cannot stand without another that is not there; undefined where it can. */
export function missingPart(key: string, has: (key: string) => boolean): string | undefined {
	const [kind, id] = key.split('/');
	if (kind === 'head' && !has(`body/${id}`)) return 'The readings of this session are missing.';
	if ((kind === 'body' || kind === 'edit' || kind === 'tombstone') && !has(`head/${id}`))
		return 'It belongs to a session that is not there.';
	return undefined;
}

/** The text of a backup. */
export function backupText(madeAt: string, entries: ReadonlyMap<string, string>): string {
	const envelope = jsonText({ format: backupFormat, version: backupVersion, madeAt });
	const listed = Array.from(entries, ([key, text]) => `[${jsonText(key)},${text}]`);
	return `${envelope.slice(0, -1)},"entries":[${listed.join()}]}`;
}

const envelopeSchema = v.object({
	version: v.literal(backupVersion),
	madeAt: instantSchema,
	entries: v.custom<unknown[]>(Array.isArray, 'this is not a list')
});

/**
 * The backup in a text. Whatever is not whole and sound is refused with a plain sentence; never throws. A text
 * of over 200 million characters is not even parsed. `breathe` is awaited between entries.
 */
export async function parseBackup(text: string, breathe: Breathe): Promise<Checked<Backup>> {
	if (text.length > mostBackupCharacters)
		return { problem: 'This file is larger than any backup can be, so it was not read.' };
	let content: unknown;
	try {
		content = JSON.parse(text);
	} catch {
		return { problem: 'This file is not JSON, or it was cut short. Nothing of it was read.' };
	}
	if (memberOf(content, 'format') !== backupFormat)
		return { problem: 'This file is not a backup of Corner Minute. Nothing of it was read.' };
	const envelope = check(envelopeSchema, content);
	if (envelope.problem !== undefined) return { problem: `The backup was not read. ${envelope.problem}` };
	const { madeAt, entries: listed } = envelope.value;
	if (listed.length > mostEntries)
		return { problem: `This backup has more than ${mostEntries} entries, so it was not read.` };
	const entries: Entries = new Map();
	let number = 0;
	for await (const some of inBreaths(listed, breathe))
		for (const pair of some) {
			const problem = takeInto(entries, pair);
			number++;
			if (problem !== undefined) return { problem: `Entry ${number} of the backup is wrong. ${problem}` };
		}
	for (const key of entries.keys()) {
		const problem = missingPart(key, (other) => entries.has(other));
		if (problem !== undefined) return { problem: `The backup is not whole at "${key}". ${problem}` };
	}
	return { value: { madeAt, entries } };
}

function takeInto(entries: Entries, pair: unknown): string | undefined {
	if (!Array.isArray(pair) || pair.length !== 2 || typeof pair[0] !== 'string')
		return 'It is not a pair of key and value.';
	const key = pair[0];
	const name = key.length > 120 ? `${key.slice(0, 120)}…` : key;
	if (entries.has(key)) return `"${name}" is there twice.`;
	if (stayingKeys.includes(key)) return `"${name}" belongs to one browser alone.`;
	if (formerKeys.includes(key)) return undefined;
	try {
		const { value, problem } = checkedEntry(key, revived(pair[1]));
		if (problem !== undefined) return `("${name}") ${problem}`;
		entries.set(key, value);
		return undefined;
	} catch (error) {
		if (error instanceof Refusal) return `("${name}") ${error.message}`;
		throw error;
	}
}

/** A member of what may be anything. */
export function memberOf(value: unknown, name: string): unknown {
	return typeof value === 'object' && value !== null && Object.hasOwn(value, name)
		? (value as Form)[name]
		: undefined;
}
