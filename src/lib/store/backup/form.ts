import * as v from 'valibot';
import { jsonIn } from '../bounded-json';
import { inBreaths, type Breathe } from '../breathe';
import { jsonText, Refusal, revived } from '../plain-json';
import { checkedEntry, isKnown, isKnownToAll, memberOf, staysHere } from '$lib/record/kinds';
import { check, type Checked } from '$lib/record/check';

export const backupFormat = 'corner-minute backup';
export const backupVersion = 1;

/** Some years of daily training with every RR interval; a browser can still hold the text. */
export const mostBackupCharacters = 200_000_000;
export const mostEntries = 200_000;
const mostParts = 10_000;

/** What a backup holds: keys as in the store and checked values, in order of the keys. */
export type Entries = Map<string, unknown>;

export const backupPartSchema = v.object({
	/** From 1. */
	number: v.pipe(v.number(), v.safeInteger(), v.minValue(1), v.maxValue(mostParts)),
	isLast: v.boolean()
});

/** Which file it is of a backup that one file could not hold. */
export type BackupPart = v.InferOutput<typeof backupPartSchema>;

export interface Backup {
	/** ISO 8601 in UTC; all parts of a backup have the same. */
	madeAt: string;
	/** Absent where the file holds the whole of it. */
	part?: BackupPart;
	entries: Entries;
}

/** Why an entry cannot stand without another that is not there; undefined where it can. */
export function missingPart(key: string, has: (key: string) => boolean): string | undefined {
	const [kind, id] = key.split('/');
	if (kind === 'head' && !has(`body/${id}`)) return 'The readings of this session are missing.';
	if ((kind === 'body' || kind === 'edit' || kind === 'tombstone') && !has(`head/${id}`))
		return 'It belongs to a session that is not there.';
	return undefined;
}

/**
 * The text of a backup, or of a part of one, which is a backup of the same form. What an older page would refuse stands apart
 * as "more", which it passes over, as it does the number of a part.
 */
export function backupText(madeAt: string, entries: ReadonlyMap<string, string>, part?: BackupPart): string {
	const envelope = jsonText({ format: backupFormat, version: backupVersion, madeAt, part });
	const listed = (isWanted: (key: string) => boolean) =>
		Array.from(entries)
			.filter(([key]) => isWanted(key))
			.map(([key, text]) => `[${jsonText(key)},${text}]`)
			.join();
	const more = listed((key) => !isKnownToAll(key));
	return `${envelope.slice(0, -1)},"entries":[${listed(isKnownToAll)}]${more && `,"more":[${more}]`}}`;
}

const instantSchema = v.pipe(v.string(), v.isoTimestamp());
const listSchema = v.custom<unknown[]>(Array.isArray, 'this is not a list');
const envelopeSchema = v.object({
	version: v.literal(backupVersion),
	madeAt: instantSchema,
	part: v.optional(backupPartSchema),
	entries: listSchema,
	more: v.optional(listSchema, [])
});

/**
 * The backup in a text. Whatever is not whole and sound is refused with a plain sentence; never throws. A text
 * of over 200 million characters, or of more than `jsonIn` allows, is not even parsed. `breathe` is awaited between entries.
 */
export async function parseBackup(text: string, breathe: Breathe): Promise<Checked<Backup>> {
	const json = jsonIn(text, 'backup', mostBackupCharacters);
	if (json.problem !== undefined) return { problem: json.problem };
	const content = json.value;
	if (memberOf(content, 'format') !== backupFormat)
		return { problem: 'This file is not a backup of Corner Minute. Nothing of it was read.' };
	const envelope = check(envelopeSchema, content, backupVersion);
	if (envelope.problem !== undefined) return { problem: `The backup was not read. ${envelope.problem}` };
	const { madeAt, part, entries: first, more } = envelope.value;
	const listed = [...first, ...more];
	if (listed.length > mostEntries)
		return { problem: `This backup has more than ${mostEntries} entries, so it was not read.` };
	const entries: Entries = new Map();
	let number = 0;
	for await (const some of inBreaths(listed, breathe))
		for (const pair of some) {
			const problem = takeInto(entries, pair, number >= first.length);
			number++;
			if (problem !== undefined) return { problem: `Entry ${number} of the backup is wrong. ${problem}` };
		}
	for (const key of entries.keys()) {
		const problem = missingPart(key, (other) => entries.has(other));
		if (problem !== undefined) return { problem: `The backup is not whole at "${key}". ${problem}` };
	}
	return { value: { madeAt, ...(part && { part }), entries } };
}

/** Keys as a later version of this page may have them. */
const laterKey = /^[a-z][a-z-]{0,31}(\/[\w.:+-]{1,200}){1,3}$/;

/** @param isLater it stands among what not every version of this page knows */
function takeInto(entries: Entries, pair: unknown, isLater: boolean): string | undefined {
	if (!Array.isArray(pair) || pair.length !== 2 || typeof pair[0] !== 'string')
		return 'It is not a pair of key and value.';
	const key = pair[0];
	const name = key.length > 120 ? `${key.slice(0, 120)}…` : key;
	if (entries.has(key)) return `"${name}" is there twice.`;
	if (staysHere(key)) return `"${name}" belongs to one browser alone.`;
	try {
		const given = revived(pair[1]);
		// Settings come and go with the versions.
		const isCarried = (isLater || key.startsWith('setting/')) && !isKnown(key) && laterKey.test(key);
		const { value, problem } = isCarried ? { value: given } : checkedEntry(key, given);
		if (problem !== undefined) return `("${name}") ${problem}`;
		entries.set(key, value);
		return undefined;
	} catch (error) {
		if (error instanceof Refusal) return `("${name}") ${error.message}`;
		throw error;
	}
}
