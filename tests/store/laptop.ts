import { IDBFactory } from 'fake-indexeddb';
import { entriesUnder, openDatabase, read, type UseStore } from '$lib/store/database';
import { filesIn } from '$lib/store/folder/door';
import { setConsent } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import { openJournal } from '$lib/store/journal';
import { saveAthlete } from '$lib/store/athletes';
import { listPlans } from '$lib/store/plan-list';
import { readSession, listSessions } from '$lib/store/sessions';
import { sessionJson } from '$lib/store/export';
import { shortPlan } from '../session/builders';
import { makeHead, makeReading, makeRecord } from './builders';
import { freshStore } from './fresh-store';
import { FakeFolder } from './fake-folder';
import { packReadings } from '$lib/record/columns';
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
		await saveAthlete(store, athlete, undefined, noonMs);
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
			const athletes = await read(store, (objects) => entriesUnder(objects, 'athlete/'));
			return { sessions, athletes, plans: (await listPlans(store)).plans };
		}
	};
}

/** One laptop that has boxed session "a" and sent it, and another, for these athletes, that has taken it in. */
export async function shareSession(...othersAgreed: Athlete[]) {
	const folder = new FakeFolder();
	const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder, ...othersAgreed)];
	await one.box('a');
	await one.visit();
	await other.visit();
	return { folder, one, other };
}

/** Two rounds of Nerea's of a minute each, at a rate for each second. */
export const fourMinutesOf = (id: string, bpmAt: (s: number) => number) => ({
	head: makeHead({
		id,
		plan: shortPlan,
		amendments: [],
		events: [],
		endedMs: 250_000,
		athlete: { athleteId: nerea.id, name: nerea.name }
	}),
	body: packReadings(
		Array.from({ length: 250 }, (_, s) => makeReading({ ms: s * 1000 + 300, bpm: bpmAt(s), rrMs: [] }))
	)
});
