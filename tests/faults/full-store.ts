import { promisifyRequest } from 'idb-keyval';
import { makeRecord, readingEntry, startEntry } from '../store/builders';
import { freshStore } from '../store/fresh-store';
import { savePlanAndFuel } from '../store/plan-and-fuel';
import { saveAthlete } from '$lib/store/athletes';
import type { UseStore } from '$lib/store/database';
import { openJournal } from '$lib/store/journal';
import { addEdit } from '$lib/store/edits';
import { deleteSession } from '$lib/store/sessions';

const dayMs = Date.UTC(2026, 2, 5, 20);

/** One of everything that is kept, and a session that was left unfinished. `strapName` tells two such stores apart. */
export async function fullStore(strapName = 'Strap 14C2'): Promise<UseStore> {
	const store = freshStore();
	await saveAthlete(store, { id: 'ath-1', name: 'Nerea', thresholdBpm: 171.5, birthYear: 1999 });
	await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
	await openJournal(store, 's').finish([
		makeRecord({ id: 'rec-1' }),
		makeRecord({ id: 'rec-2', strapName }),
		makeRecord({ id: 'rec-3' })
	]);
	await addEdit(store, 'rec-1', { at: '2026-03-02T19:10:00.000Z', title: 'Pads with the left', effort: 7 });
	await addEdit(store, 'rec-1', { at: '2026-03-03T08:00:00.000Z', roundEfforts: { 1: 5 } });
	await deleteSession(store, 'rec-3', dayMs);
	await savePlanAndFuel(store);
	await openJournal(store, 'ses-9').append([startEntry, readingEntry()]);
	return store;
}

export type Contents = Map<string, unknown>;

export async function contentsOf(store: UseStore): Promise<Contents> {
	const [keys, values] = await store('readonly', (objects) =>
		Promise.all([promisifyRequest(objects.getAllKeys()), promisifyRequest<unknown[]>(objects.getAll())])
	);
	return new Map(keys.map((key, i) => [String(key), values[i]]));
}

/** Everything in a store, or one value, as text: equal texts, equal contents. */
export function textOf(value: unknown): string {
	return JSON.stringify(value, (_, member: unknown) => {
		if (ArrayBuffer.isView(member)) return [member.constructor.name, ...(member as Uint8Array)];
		if (member instanceof Set) return [...member].sort();
		return member instanceof Map ? [...member] : member;
	});
}

/** A store that holds just this. */
export async function storeOf(contents: Contents): Promise<UseStore> {
	const store = freshStore();
	await store('readwrite', async (objects) => {
		await Promise.all(Array.from(contents, ([key, value]) => promisifyRequest(objects.put(value, key))));
	});
	return store;
}
