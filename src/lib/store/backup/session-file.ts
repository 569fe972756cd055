import { read, valueAt, type UseStore } from '../database';
import { parseSessionJson, sessionFormat } from '../export';
import type { Backup, Entries } from './form';
import type { RecordBody } from '$lib/record/body';
import type { RecordHead } from '$lib/record/head';
import type { Checked } from '$lib/record/check';

/** Whether a text is the file of one session, sound or not: within a backup these words would stand in a text, escaped. */
export function isSessionFile(text: string): boolean {
	return new RegExp(`"format"\\s*:\\s*"${sessionFormat}"`).test(text);
}

/**
 * The file of one session as a backup of nothing else, dated by its start. What was noted of it counts as noted at its
 * start, so that it never stands over anything entered here. What is wrong with the file is said in a plain sentence.
 */
export function backupOfSession(text: string): Checked<Backup> {
	const found = parseSessionJson(text);
	if (found.status === 'refused') return { problem: found.problem };
	const { record, edit } = found;
	const { id, startedAt } = record.head;
	const entries: Entries = new Map<string, unknown>([
		[`head/${id}`, { head: record.head }],
		[`body/${id}`, record.body]
	]);
	if (Object.keys(edit).length > 0) entries.set(`edit/${id}/${startedAt}`, { at: startedAt, ...edit });
	return { value: { madeAt: startedAt, entries } };
}

/** Of a session that lies here already a file brings no notes: those here are what somebody wrote last. */
export async function withoutNotesHere(store: UseStore, backup: Backup): Promise<Backup> {
	const { id } = onlySession(backup.entries).head;
	const present = await read(store, (objects) => valueAt(objects, `head/${id}`));
	if (present === undefined) return backup;
	const entries = new Map([...backup.entries].filter(([key]) => !key.startsWith('edit/')));
	return { ...backup, entries };
}

/** The one session of such a backup. */
export function onlySession(entries: Entries): { head: RecordHead; readingCount: number } {
	const [head, body] = [...entries.values()] as [{ head: RecordHead }, RecordBody];
	return { head: head.head, readingCount: body.stepMs.length };
}
