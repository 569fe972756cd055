import { describe, expect, it } from 'vitest';
import { methodsVersion } from '$lib/record/summary';
import { openJournal } from '$lib/store/journal';
import { addEdit } from '$lib/store/edits';
import { deleteSession, purgeDeleted, restoreSession } from '$lib/store/sessions';
import { checkTrainings, mendTrainings, readTrainings } from '$lib/store/trainings';
import { openDatabase, type UseStore } from '$lib/store/database';
import type { RecordHead } from '$lib/record/head';
import { makeRecord } from './builders';
import { watchedStore } from './faulty-store';
import { freshStore, keysWithCaches, plant, valueOf } from './fresh-store';

const box = (store: UseStore, id: string, overrides: Partial<RecordHead> = {}) =>
	openJournal(store, `of-${id}`).finish([makeRecord({ id, ...overrides })]);
const march = async (store: UseStore) =>
	readTrainings(store, new Date('2026-03-01T00:00:00Z'), new Date('2026-04-01T00:00:00Z'));
const idsIn = async (store: UseStore) => (await march(store)).map(({ id }) => id);

describe('trainings with a strap, by day', () => {
	it('are those between two moments, oldest first', async () => {
		const store = freshStore();
		await box(store, 'late', { startedAt: '2026-03-20T18:00:00.000Z' });
		await box(store, 'early', { startedAt: '2026-03-02T18:00:00.000Z' });
		await box(store, 'before', { startedAt: '2026-02-27T18:00:00.000Z' });
		expect(await idsIn(store)).toEqual(['early', 'late']);
	});
	it('say what was put right afterwards, at once', async () => {
		const store = freshStore();
		await box(store, 'a');
		expect((await march(store))[0]).not.toHaveProperty('effort');
		await addEdit(store, 'a', {
			at: '2026-03-02T20:00:00.000Z',
			effort: 7,
			athlete: { id: 'ath-2', name: 'Bo' }
		});
		expect((await march(store))[0]).toMatchObject({ effort: 7, athleteId: 'ath-2' });
	});
	it('leave out what is deleted, bring back what is brought back, and forget what is purged', async () => {
		const store = freshStore();
		await box(store, 'a');
		await deleteSession(store, 'a', 0);
		expect(await idsIn(store)).toEqual([]);
		await restoreSession(store, 'a');
		expect(await idsIn(store)).toEqual(['a']);
		await deleteSession(store, 'a', 0);
		await purgeDeleted(store, 0, 1);
		await mendTrainings(store);
		expect((await keysWithCaches(store)).filter((key) => key.startsWith('here-'))).toEqual([
			'here-trainings'
		]);
	});
	it('are found though an older page of this browser wrote them, and made anew for other methods', async () => {
		const store = freshStore();
		await box(store, 'a');
		await idsIn(store);
		await plant(store, 'head/b', { head: makeRecord({ id: 'b' }).head });
		expect(await checkTrainings(store)).toBe(true);
		expect(await idsIn(store)).toEqual(['a', 'b']);
		const old = `here-training-${methodsVersion - 1}-1/2026-03-02T18:30:00.000Z/a`;
		await plant(store, old, null);
		await plant(store, 'head/c', { head: makeRecord({ id: 'c' }).head });
		// Another window, or the next visit.
		await checkTrainings(openDatabase());
		expect(await idsIn(store)).toEqual(['a', 'b', 'c']);
		expect(await checkTrainings(store)).toBe(false);
		expect(await valueOf(store, old)).toBeUndefined();
	});
	it('are read in one way to the store as long as no session was written', async () => {
		const store = freshStore();
		await box(store, 'a');
		expect(await idsIn(store)).toEqual(['a']);
		let ways = 0;
		const counted: UseStore = (mode, work) => {
			ways++;
			return store(mode, work);
		};
		expect(await idsIn(counted)).toEqual(['a']);
		expect(ways).toBe(1);
		await addEdit(store, 'a', { at: '2026-03-02T20:00:00.000Z', effort: 7 });
		expect((await march(counted))[0]).toMatchObject({ effort: 7 });
	});
	it('are looked up a few at a time behind a screen that reads, so that it never waits long', async () => {
		const store = freshStore();
		await idsIn(store);
		const { head } = makeRecord();
		for (let i = 0; i < 45; i++) await plant(store, `head/s${i}`, { head: { ...head, id: `s${i}` } });
		const heads: number[] = [];
		const counted: UseStore = async (mode, work) => {
			const watched = watchedStore(store);
			const answer = await watched.store(mode, work);
			heads.push(watched.requests.filter(({ method, key }) => method === 'get' && /^head/.test(key)).length);
			return answer;
		};
		expect(await checkTrainings(counted)).toBe(true);
		expect(heads.filter((count) => count > 0)).toEqual([20, 20, 5]);
		expect(await idsIn(store)).toHaveLength(45);
	});
	it('are whole beside a session that cannot be read', async () => {
		const store = freshStore();
		await box(store, 'a');
		await plant(store, 'head/broken', 'nothing');
		expect(await idsIn(store)).toEqual(['a']);
		const keys = await keysWithCaches(store);
		expect(await idsIn(store)).toEqual(['a']);
		expect(await keysWithCaches(store)).toEqual(keys);
	});
});
