import { backupText, missingPart, mostBackupCharacters } from './form';
import { excessIn } from '../bounded-json';
import { backedUpKinds, checkedEntry, isKnown, staysHere } from '$lib/record/kinds';
import { breathing, inBreaths, type Tell } from '../breathe';
import {
	entriesUnder,
	keysUnder,
	read,
	StoreError,
	valueAt,
	type Unreadable,
	type UseStore
} from '../database';
import { jsonText, Refusal, revived } from '../plain-json';
import type { Checked } from '$lib/record/check';

export interface MadeBackup {
	text: string;
	sessionCount: number;
	athleteCount: number;
	/** What could not be read and so is not in it; it stays where it is. */
	leftOut: Unreadable[];
}

/**
 * Everything that is kept, as one JSON text: sessions with their later entries and those deleted within the
 * day, athletes, own plans, settings, weight and food. Sessions that still run are not in it. What the text
 * holds is sure to be read back; kinds that a later version of this page has put here are carried along. `tell` may call it off. Rejects with `StoreError`.
 */
export async function makeBackup(
	store: UseStore,
	now: Date,
	tell: Tell = () => undefined
): Promise<MadeBackup> {
	const [groups, keys] = await read(store, (objects) =>
		Promise.all([
			Promise.all(backedUpKinds.map((kind) => entriesUnder(objects, `${kind}/`))),
			keysUnder(objects, '')
		])
	);
	const stored = new Map(groups.flat());
	const sound = new Map<string, string>();
	const leftOut: Unreadable[] = [];
	const travelling = keys.filter((key) => !staysHere(key));
	const unknown = travelling.filter((key) => !stored.has(key));
	const values = await read(store, (objects) => Promise.all(unknown.map((key) => valueAt(objects, key))));
	unknown.forEach((key, i) => stored.set(key, values[i]));
	for await (const some of inBreaths(travelling, breathing(tell)))
		for (const key of some) {
			const { value, problem } = readableAgain(key, stored.get(key));
			if (problem === undefined) sound.set(key, value);
			else leftOut.push({ key, problem });
		}
	const entries = new Map<string, string>();
	for (const [key, text] of sound) {
		const problem = missingPart(key, (other) => sound.has(other));
		if (problem === undefined) entries.set(key, text);
		else leftOut.push({ key, problem });
	}
	const text = backupText(now.toISOString(), entries);
	if (text.length > mostBackupCharacters || excessIn(text))
		throw new StoreError('failed', 'There is more here than one backup holds.');
	const count = (prefix: string) => [...entries.keys()].filter((key) => key.startsWith(prefix)).length;
	return { text, sessionCount: count('head/'), athleteCount: count('athlete/'), leftOut };
}

/** The text of an entry that is sure to come back from the file, so that no backup is made that would be refused. */
function readableAgain(key: string, stored: unknown): Checked<string> {
	try {
		if (!isKnown(key)) return { value: jsonText(revived(JSON.parse(jsonText(stored)))) };
	} catch {
		return { problem: 'This page knows no entries of this kind, and cannot tell it in a file.' };
	}
	const checked = checkedEntry(key, stored);
	if (checked.problem !== undefined) return checked;
	try {
		const again = checkedEntry(key, revived(JSON.parse(jsonText(checked.value))));
		return again.problem === undefined ? { value: jsonText(again.value) } : again;
	} catch (error) {
		if (error instanceof Refusal) return { problem: error.message };
		throw error;
	}
}

/**
 * An entry that cannot be read, as text for whoever wants to look into it: what lies there, as far as JSON can
 * tell it; of a session everything that belongs to it. Rejects with `StoreError`.
 */
export async function rawText(store: UseStore, key: string): Promise<string> {
	const [kind, id] = key.split('/');
	const found = await read(store, async (objects) => {
		if (kind !== 'head' && kind !== 'body') return [[key, await valueAt(objects, key)] as const];
		const keys = [`head/${id}`, `body/${id}`, ...(await keysUnder(objects, `edit/${id}/`))];
		return Promise.all(keys.map(async (one) => [one, await valueAt(objects, one)] as const));
	});
	const entries = found.map(([one, value]) => [one, tellable(value)]);
	return jsonText({ format: 'corner-minute raw entry', entries });
}

/** A value if JSON can tell it; what it calls itself where it goes in circles or holds what JSON does not know. */
function tellable(value: unknown): unknown {
	try {
		jsonText(value);
		return value ?? null;
	} catch {
		return { unreadableAs: 'JSON', whatItIs: Object.prototype.toString.call(value) };
	}
}
