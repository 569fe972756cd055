import { IDBFactory } from 'fake-indexeddb';
import { entriesUnder, openDatabase, read, type UseStore } from '$lib/store/database';
import { filesIn } from '$lib/store/folder/door';
import { setConsent } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import { openJournal } from '$lib/store/journal';
import { saveAthlete } from '$lib/store/athletes';
import { readSession, listSessions } from '$lib/store/sessions';
import { sessionJson } from '$lib/store/export';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';
import type { FakeFolder } from './fake-folder';
import type { RecordHead } from '$lib/record/head';
import type { Athlete } from '$lib/record/athlete';

export const dayMs = 86_400_000;
export const noonMs = Date.UTC(2026, 2, 3, 12);
export const iso = (ms: number) => new Date(ms).toISOString();

export const nerea: Athlete = { id: 'ath-1', name: 'Nerea' };
export const bo: Athlete = { id: 'ath-2', name: 'Bo' };

/** A laptop of the gym: its own database, and the folder it was shown. */
export interface Laptop {
	store: UseStore;
	folder: FakeFolder;
	/** Reads and writes the folder. */
	visit(atMs?: number): ReturnType<typeof visitFolder>;
	/** A finished session. */
	box(id: string, overrides?: Partial<RecordHead>): Promise<void>;
	/** Everything that travels, as it lies here. */
	state(): Promise<unknown>;
	ids(): Promise<string[]>;
}

export async function makeLaptop(folder: FakeFolder, ...agreed: Athlete[]): Promise<Laptop> {
	freshStore();
	globalThis.indexedDB = new IDBFactory();
	const store = openDatabase();
	// The database is opened at the first use: before the next laptop replaces the factory.
	await read(store, () => undefined);
	for (const athlete of agreed) {
		await saveAthlete(store, athlete);
		await setConsent(store, athlete.id, true);
	}
	const ids = async () => (await listSessions(store)).sessions.map(({ head }) => head.id).sort();
	return {
		store,
		folder,
		visit: (atMs = noonMs) => visitFolder(store, filesIn(folder.handle), atMs),
		box: (id, overrides = {}) => openJournal(store, `of-${id}`).finish([makeRecord({ id, ...overrides })]),
		ids,
		async state() {
			const sessions = [];
			for (const id of await ids()) {
				const found = await readSession(store, id);
				if (found.status !== 'found') throw new Error(found.problem);
				sessions.push(sessionJson(found.record, found.edit));
			}
			return { sessions, athletes: await read(store, (objects) => entriesUnder(objects, 'athlete/')) };
		}
	};
}
