import { missingPart, mostBackupCharacters, mostEntries } from './form';
import type { Unreadable } from '../database';
import { mostValues, weighed } from '../bounded-json';
import { jsonText, Refusal, revived } from '../plain-json';
import { stampPrefix } from '../entered';
import type { Checked } from '$lib/record/check';
import { grouped } from '$lib/record/grouped';
import { checkedEntry, isKnown } from '$lib/record/kinds';

/** What a file of a backup comes to, or may come to. */
export interface Size {
	/** In UTF-16 units. */
	characters: number;
	entries: number;
	/** Lists, objects and members, as `weighed` counts them. */
	values: number;
}

/** Entries as text that must stand in one file, and what they add to it. */
export interface Unit {
	entries: readonly (readonly [string, string])[];
	size: Size;
	/** What belongs to them and cannot be read. */
	leftOut: Unreadable[];
}

/** What stands around the entries: some 140 characters, and 11 lists, objects and members. */
export const envelope: Size = { characters: 300, entries: 0, values: 20 };

const nothing: Size = { characters: 0, entries: 0, values: 0 };

const mostRead: Size = { characters: mostBackupCharacters, entries: mostEntries, values: mostValues };

export const sum = (one: Size, other: Size): Size => ({
	characters: one.characters + other.characters,
	entries: one.entries + other.entries,
	values: one.values + other.values
});

export const isWithin = (size: Size, most: Size) =>
	size.characters <= most.characters && size.entries <= most.entries && size.values <= most.values;

/**
 * Keys in groups that must not be torn apart, since what becomes of one in a restore hangs on the others: a session with
 * all that belongs to it, all cards, a plan with its former form, and anything with the moment when it was entered. Sessions stand last.
 */
export function unitsOf(keys: readonly string[]): string[][] {
	const units = [...grouped(keys, unitOf).values()];
	return [...units.filter((unit) => !isSession(unit)), ...units.filter(isSession)];
}

export const isSession = ([key = '']: readonly string[]) => unitOf(key).startsWith('head/');

function unitOf(key: string): string {
	if (key.startsWith(stampPrefix)) return unitOf(key.slice(stampPrefix.length));
	const [kind = '', id] = key.split('/');
	if (['head', 'body', 'edit', 'tombstone'].includes(kind)) return `head/${id}`;
	// The athlete "Me" of an empty store goes where any card comes: cards one by one would be taken for more such athletes.
	if (['athlete', 'card-state', 'gone-athlete'].includes(kind)) return 'athlete';
	return kind === 'plan-state' ? `plan/${id}` : key;
}

/** What can be told of stored entries that belong together; what has gone meanwhile is passed over. */
export function soundUnit(stored: readonly (readonly [string, unknown])[]): Unit {
	const sound = new Map<string, Told>();
	const leftOut: Unreadable[] = [];
	for (const [key, value] of stored) {
		if (value === undefined) continue;
		const { value: told, problem } = readableAgain(key, value);
		if (problem === undefined) sound.set(key, told);
		else leftOut.push({ key, problem });
	}
	// What stands on something that goes, goes after it: a correction of a session whose readings are damaged.
	for (let before = Infinity; sound.size < before;) {
		before = sound.size;
		for (const key of [...sound.keys()]) {
			const problem = missingPart(key, (other) => sound.has(other));
			if (problem === undefined) continue;
			sound.delete(key);
			leftOut.push({ key, problem });
		}
	}
	const entries: [string, string][] = [];
	let size = nothing;
	for (const [key, { text, values }] of sound) {
		entries.push([key, text]);
		// The pair is a list, and a comma parts it from the next.
		const characters = jsonText(key).length + text.length + '[,],'.length;
		size = sum(size, { characters, entries: 1, values: 1 + values });
	}
	if (isWithin(sum(envelope, size), mostRead)) return { entries, size, leftOut };
	const refused = entries.map(([key]) => ({ key, problem: tooLarge }));
	return { entries: [], size: nothing, leftOut: leftOut.concat(refused) };
}

const tooLarge = 'It is larger than what a backup can hold.';

/** An entry as text, and how many lists, objects and members that is. */
interface Told {
	text: string;
	values: number;
}

/** The text of an entry that is sure to come back from the file, so that no backup is made that would be refused. */
function readableAgain(key: string, stored: unknown): Checked<Told> {
	try {
		if (!isKnown(key)) return toldOf(revived(JSON.parse(jsonText(stored))));
	} catch {
		return { problem: 'This page knows no entries of this kind, and cannot tell it in a file.' };
	}
	const checked = checkedEntry(key, stored);
	if (checked.problem !== undefined) return checked;
	try {
		const again = checkedEntry(key, revived(JSON.parse(jsonText(checked.value))));
		return again.problem === undefined ? toldOf(again.value) : again;
	} catch (error) {
		if (error instanceof Refusal) return { problem: error.message };
		throw error;
	}
}

function toldOf(value: unknown): Checked<Told> {
	const text = jsonText(value);
	const { values, excess } = weighed(text);
	return excess ? { problem: tooLarge } : { value: { text, values } };
}
