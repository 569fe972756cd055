import {
	backedUpKinds,
	backupText,
	checkedEntry,
	missingPart,
	mostBackupCharacters,
	stayingKeys,
	stayingKinds,
	type Entries
} from './backup-form';
import { entriesUnder, keysUnder, read, StoreError, valueAt } from './database';
import { jsonText, Refusal, revived } from './plain-json';
import type { Unreadable, UseStore } from './database';
import type { Checked } from '$lib/session/record-schema';

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
 * holds is sure to be read back. Rejects with `StoreError`.
 */
export async function makeBackup(store: UseStore, now: Date): Promise<MadeBackup> {
	const [groups, keys] = await read(store, (objects) =>
		Promise.all([
			Promise.all(backedUpKinds.map((kind) => entriesUnder(objects, `${kind}/`))),
			keysUnder(objects, '')
		])
	);
	const stored = new Map(groups.flat());
	const sound: Entries = new Map();
	const leftOut: Unreadable[] = [];
	for (const key of keys) {
		if (stayingKinds.includes(key.split('/')[0] ?? '') || stayingKeys.includes(key)) continue;
		const { value, problem } = readableAgain(key, stored.get(key));
		if (problem === undefined) sound.set(key, value);
		else leftOut.push({ key, problem });
	}
	const entries: Entries = new Map();
	for (const [key, value] of sound) {
		const problem = missingPart(key, (other) => sound.has(other));
		if (problem === undefined) entries.set(key, value);
		else leftOut.push({ key, problem });
	}
	const text = backupText({ madeAt: now.toISOString(), entries });
	if (text.length > mostBackupCharacters)
		throw new StoreError('failed', 'There is more here than one backup holds.');
	const count = (prefix: string) => [...entries.keys()].filter((key) => key.startsWith(prefix)).length;
	return { text, sessionCount: count('head/'), athleteCount: count('athlete/'), leftOut };
}

/** An entry as it will come back from the file, so that no backup is made that would be refused. */
function readableAgain(key: string, stored: unknown): Checked<unknown> {
	const checked = checkedEntry(key, stored);
	if (checked.problem !== undefined) return checked;
	try {
		return checkedEntry(key, revived(JSON.parse(jsonText(checked.value))));
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
