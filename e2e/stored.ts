import type { Page } from '@playwright/test';
import { entriesIn } from './entries';

/** What lies in the page's database, as far as a kill can harm it; packets by the number each carries. */
export interface Stored {
	journals: { sessionId: string; hasStart: boolean; numbers: number[] }[];
	records: { id: string; groupId: string; hasHead: boolean; hasBody: boolean; numbers: number[] }[];
}

export async function storedIn(page: Page): Promise<Stored> {
	const stored: Stored = { journals: [], records: [] };
	const journals = new Map<string, Entry[]>();
	const records = new Map<string, { head?: Head; body?: { energyKJ: number[] } }>();
	for (const [key, value] of await entriesIn(page)) {
		const [kind, id = ''] = key.split('/');
		if (kind === 'journal') journals.set(id, [...(journals.get(id) ?? []), ...(value as Entry[])]);
		if (kind === 'head') records.set(id, { ...records.get(id), ...(value as { head: Head }) });
		if (kind === 'body') records.set(id, { ...records.get(id), body: value as { energyKJ: number[] } });
	}
	for (const [sessionId, all] of journals)
		stored.journals.push({
			sessionId,
			hasStart: all[0]?.kind === 'start',
			numbers: all.flatMap(({ kind, energyKJ }) => (kind === 'reading' ? (energyKJ ?? []) : []))
		});
	for (const [id, { head, body }] of records)
		stored.records.push({
			id,
			groupId: head?.groupId ?? '',
			hasHead: head !== undefined,
			hasBody: body !== undefined,
			numbers: body?.energyKJ ?? []
		});
	return stored;
}

interface Entry {
	kind: string;
	energyKJ?: number;
}

interface Head {
	groupId: string;
}
