import type { Page } from '@playwright/test';
import { entriesIn } from './entries';

/** What can be done in mid-session, by the name that a journal has for it. */
export const deeds = ['join', 'hand over', 'add block'] as const;
export type Deed = (typeof deeds)[number];

/** What lies in the page's database, as far as a kill can harm it; packets by the number each carries. */
export interface Stored {
	journals: { sessionId: string; hasStart: boolean; numbers: number[]; deeds: Deed[]; boxers: string[] }[];
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
			numbers: all.flatMap(({ kind, energyKJ }) => (kind === 'reading' ? (energyKJ ?? []) : [])),
			boxers: boxersIn(all),
			deeds: all.flatMap(({ kind, amendment }) => deeds.filter((deed) => deed === (amendment?.kind ?? kind)))
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

/** Who took part, the one who wears the strap first. */
function boxersIn(all: readonly Entry[]): string[] {
	const entrants = all.flatMap(({ start, entrant }) => [
		...(start?.corners ?? []),
		...(entrant ? [entrant] : [])
	]);
	const wearer = all.findLast(({ kind }) => kind === 'hand over')?.corner ?? 0;
	const names = entrants.map(({ athlete }) => athlete.name);
	return [...names.splice(wearer, 1), ...names];
}

interface Entrant {
	athlete: { name: string };
}

interface Entry {
	kind: string;
	corner?: number;
	start?: { corners: Entrant[] };
	entrant?: Entrant;
	energyKJ?: number;
	amendment?: { kind: string };
}

interface Head {
	groupId: string;
}
