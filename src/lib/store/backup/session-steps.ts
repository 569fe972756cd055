import type { Entries } from './form';
import { sessionName } from './names';
import { same, soundHere, type Note, type Steps } from './steps';
import { textOf } from '$lib/record/same';
import { blocksVersion } from '$lib/record/check';
import type { RecordHead } from '$lib/record/head';
import { memberOf } from '$lib/record/kinds';

/** An edit as both sides have it: of one moment there is one, and members that are here stay. */
function editOf(key: string, entries: Entries, here: Entries): unknown {
	const present = soundHere(key, here) as object | undefined;
	return { ...(entries.get(key) as object), ...present };
}

/** A session of the backup with its corrections: what is sound here never changes. */
export function takeSession(
	id: string,
	edits: readonly [string, unknown][],
	entries: Entries,
	here: Entries,
	steps: Steps,
	note: Note
): void {
	const parts = [`head/${id}`, `body/${id}`];
	const ownEdits = edits.map(([key]) => key);
	const tombstone = `tombstone/${id}`;
	const name = sessionName((entries.get(`head/${id}`) as { head: RecordHead }).head, edits);
	const put = (keys: readonly string[]) =>
		steps.puts.push(...keys.map((key) => [key, entries.get(key)] as [string, unknown]));

	if (parts.every((key) => !here.has(key))) {
		put([...parts, ...ownEdits]);
		if (entries.has(tombstone)) steps.puts.push([tombstone, { deletedAtMs: steps.nowMs }]);
		else if (here.has(tombstone)) steps.deletes.push(tombstone);
		return note(
			'added',
			name,
			entries.has(tombstone) ? 'deleted; it can be brought back for a day' : undefined
		);
	}
	if (parts.some((key) => isNewer(key, here)))
		return note('skipped', name, 'the one here was written by a newer version of this page');
	const damaged = parts.filter((key) => soundHere(key, here) === undefined);
	if (parts.some((key) => !damaged.includes(key) && !same(soundHere(key, here), entries.get(key))))
		return note('skipped', name, 'another session with the same id is here; it stays as it is');

	const changes: string[] = [];
	if (damaged.length > 0) {
		put(damaged);
		changes.push('it is damaged here and will be made whole');
	}
	const newEdits = ownEdits.filter(
		(key) => textOf(editOf(key, entries, here)) !== textOf(soundHere(key, here))
	);
	if (newEdits.length > 0) {
		steps.puts.push(...newEdits.map((key) => [key, editOf(key, entries, here)] as [string, unknown]));
		changes.push('title, notes or corrections from the backup');
	}
	if (here.has(tombstone) && !entries.has(tombstone)) {
		steps.deletes.push(tombstone);
		changes.push('it was deleted here and comes back');
	}
	if (changes.length > 0) note('changed', name, changes.join('; '));
	else note('skipped', name, 'already here');
}

function isNewer(key: string, here: Entries): boolean {
	const stored = here.get(key);
	const version = memberOf(key.startsWith('head/') ? memberOf(stored, 'head') : stored, 'version');
	return typeof version === 'number' && version > blocksVersion;
}
