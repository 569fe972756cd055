import type { IDBFactory } from 'fake-indexeddb';
import { diskOf, pageOver, type Disk } from './faulty-requests';
import { savePlanAndFuel } from '../store/plan-and-fuel';
import { makeRecord, padsPlan, readingEntry, startEntry } from '../store/builders';
import { FakeFolder } from '../store/fake-folder';
import { iso, makeLaptop, nerea, noonMs, bo, type Laptop } from '../store/laptop';
import { makeDay, makeEntry } from '../review/training-days';
import { summaryOf } from '$lib/review/summary';
import { saveAthlete } from '$lib/store/athletes';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { keepExample } from '$lib/store/example';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { openSessionIndex, orderOfSessions } from '$lib/store/session-index';
import { deleteSession, purgeDeleted, restoreSession } from '$lib/store/sessions';
import { readTrainings } from '$lib/store/trainings';
import { savePlan } from '$lib/store/plans';
import { takeFate } from '$lib/store/folder/fates';
import { openJournal } from '$lib/store/journal';
import type { UseStore } from '$lib/store/database';

/** What lies on a laptop, and in the folder that it was shown. */
export interface World {
	disk: Disk;
	folder: FakeFolder;
}

/** Made at the first use: whoever plays in one has a copy. */
function once(make: () => Promise<World>): () => Promise<World> {
	let made: Promise<World> | undefined;
	return () => (made ??= make());
}

/** Nobody was ever here. */
export const emptyWorld = (): World => ({ disk: new Map(), folder: new FakeFolder() });

const hourMs = 3_600_000;

/** One of everything that is kept, a session that was left unfinished, and caches that are made. */
export const gymWorld = once(async () => {
	const { store } = await makeLaptop(new FakeFolder(), nerea, bo);
	const factory = globalThis.indexedDB;
	await saveAthlete(store, { id: 'ath-3', name: 'Nerea', thresholdBpm: 190 }, undefined, noonMs);
	const measured = (id: string, athleteId = 'ath-1') => {
		const record = makeRecord({ id, athlete: { athleteId, name: 'Nerea', thresholdBpm: 171.5 } });
		return { ...record, summary: summaryOf(record) };
	};
	await openJournal(store, 's').finish(['a', 'b', 'c', 'd'].map((id) => measured(id)));
	await openJournal(store, 't').finish([measured('e', 'ath-3'), measured('f', 'ath-2')]);
	await addEdit(store, 'a', { at: iso(noonMs), title: 'Pads with the left', effort: 7 });
	await addEdit(store, 'a', { at: iso(noonMs + 1), roundEfforts: { 1: 5 } });
	await deleteSession(store, 'c', noonMs - 48 * hourMs);
	await deleteSession(store, 'd', noonMs - hourMs);
	await savePlanAndFuel(store);
	for (const athleteId of ['ath-1', 'ath-3'])
		await saveDay(store, athleteId, '2026-03-01', { changed: makeDay(makeEntry({ id: athleteId })) }, noonMs);
	await saveAthlete(store, { id: 'ath-4', name: 'Ilka' }, undefined, noonMs);
	await openJournal(store, 'u').finish([measured('g', 'ath-4')]);
	await deleteAthlete(store, 'ath-4', noonMs - 48 * hourMs);
	await keepExample(
		store,
		[{ id: 'ex', name: 'Tove', example: true }],
		[{ record: makeRecord({ id: 'ex-1', practice: true, example: true }) }],
		[{ athleteId: 'ex', date: '2026-03-01', day: makeDay(makeEntry({ id: 'ex-day' })) }]
	);
	await openJournal(store, 'ses-1').append([startEntry, readingEntry()]);
	await readTrainings(store, new Date(0), new Date(noonMs));
	await orderOfSessions(store, openSessionIndex());
	await addEdit(store, 'b', { at: iso(noonMs), effort: 3 });
	return { disk: diskOf(factory as IDBFactory), folder: new FakeFolder() };
});

/** The same, where another laptop has merged two cards. */
export const mergedWorld = once(async () =>
	changed(await gymWorld(), async (store) => {
		const word = { deleted: true, at: iso(noonMs), by: 'b', into: 'ath-1' };
		await takeFate(store, 'athlete', 'ath-3', word, noonMs);
	})
);

/** A gym whose backup knows some of what lies in the other one, and more. */
export const otherGymWorld = once(async () =>
	changed(await gymWorld(), async (store) => {
		await purgeDeleted(store, 0, noonMs);
		await restoreSession(store, 'd');
		await openJournal(store, 'v').finish([makeRecord({ id: 'h' })]);
		await addEdit(store, 'b', { at: iso(noonMs + 5), title: 'From the other laptop' });
		await saveAthlete(store, { ...nerea, thresholdBpm: 188 }, undefined, noonMs + hourMs);
		await savePlan(store, { id: 'plan-1', plan: { ...padsPlan, roundS: 120 } }, noonMs + hourMs);
		await saveDay(store, 'ath-2', '2026-03-02', { changed: makeDay(makeEntry()) }, noonMs + hourMs);
	})
);

/** A laptop with something to say to a folder that has something to say to it, of every kind. */
export const sharedWorld = once(async () => {
	const folder = new FakeFolder();
	const one = await makeLaptop(folder, nerea);
	const factory = globalThis.indexedDB;
	const other = await makeLaptop(folder, nerea);
	for (const id of ['a', 'b', 'c']) await one.box(id);
	await one.visit();
	await other.visit();
	await sayAll(other, 'x', 'b', noonMs + hourMs);
	await other.visit(noonMs + hourMs);
	await sayAll(one, 'y', 'c', noonMs + 2 * hourMs);
	return { disk: diskOf(factory as IDBFactory), folder };
});

async function sayAll({ store, box }: Laptop, own: string, gone: string, ms: number): Promise<void> {
	await box(own);
	await addEdit(store, 'a', { at: iso(ms), note: `Of laptop ${own}` });
	await deleteSession(store, gone, ms);
	await saveAthlete(store, { ...nerea, thresholdBpm: 150 + (ms % 7) }, undefined, ms);
	await saveDay(store, 'ath-1', '2026-03-02', { changed: makeDay(makeEntry({ id: own })) }, ms);
	await savePlan(store, { id: `plan-${own}`, plan: padsPlan }, ms);
}

async function changed(world: World, change: (store: UseStore) => Promise<void>): Promise<World> {
	await change(await pageOver(world.disk));
	return { disk: diskOf(globalThis.indexedDB as IDBFactory), folder: world.folder };
}
