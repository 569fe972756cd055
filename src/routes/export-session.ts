import { download } from '$lib/components/frame/download';
import { handOn } from '$lib/components/frame/share';
import type { SessionRecord } from '$lib/record/body';
import { livedPhases } from '$lib/review/summary';
import { rawText } from '$lib/store/backup/backup';
import type { UseStore } from '$lib/store/database';
import { exportName, sessionCsv, sessionJson } from '$lib/store/export';
import type { FoldedEdit } from '$lib/record/edit';

/** Hands a session on as a file; `edit` is what was put right of it later. */
export function exportSession(record: SessionRecord, form: 'json' | 'csv', edit: FoldedEdit = {}): void {
	const name = exportName(record.head, form, edit.athlete?.name);
	if (form === 'json') void handOn(name, 'application/json', sessionJson(record, edit));
	else void handOn(name, 'text/csv', sessionCsv(record, livedPhases(record.head)));
}

/** The same with an entry that cannot be read, as it lies in the store. Answers why it was not done. */
export async function exportRaw(store: UseStore, key: string): Promise<string | undefined> {
	try {
		download(`${key.replaceAll(/[^\w-]+/g, '-')}.raw.json`, 'application/json', await rawText(store, key));
		return undefined;
	} catch {
		return 'This browser could not read the entry, so it was not exported.';
	}
}
