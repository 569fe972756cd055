import type { Page } from '@playwright/test';

/** What lies in the page's database, as far as a kill can harm it; packets by the number each carries. */
export interface Stored {
	journals: { sessionId: string; hasStart: boolean; numbers: number[] }[];
	records: { id: string; groupId: string; hasHead: boolean; hasBody: boolean; numbers: number[] }[];
}

/** Reads the database itself, on purpose not with the page's own code. The page must stand on its own address. */
export async function storedIn(page: Page): Promise<Stored> {
	const entries = await page.evaluate(async () => {
		const done = <T>(request: IDBRequest<T>) =>
			new Promise<T>((resolve, reject) => {
				request.onsuccess = () => resolve(request.result);
				request.onerror = () => reject(request.error);
			});
		const database = await done(indexedDB.open('corner-minute'));
		const objects = database.transaction('entries').objectStore('entries');
		const [keys, values] = await Promise.all([done(objects.getAllKeys()), done(objects.getAll())]);
		database.close();
		return JSON.stringify(
			keys.map((key, i) => [String(key), values[i] as unknown]),
			(_, value: unknown) => (ArrayBuffer.isView(value) ? Array.from(value as Uint16Array) : value)
		);
	});
	const stored: Stored = { journals: [], records: [] };
	const journals = new Map<string, Entry[]>();
	const records = new Map<string, { head?: Head; body?: { energyKJ: number[] } }>();
	for (const [key, value] of JSON.parse(entries) as [string, unknown][]) {
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
