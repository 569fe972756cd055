import { describe, expect, it } from 'vitest';
import { makeHead, makeRecord } from './builders';
import { abortingStore, watchedStore } from './faulty-store';
import { allKeys, freshStore, plant, valueOf } from './fresh-store';
import { methodsVersion } from '$lib/record/summary';
import { summaryOf } from '$lib/review/summary';
import { openJournal } from '$lib/store/journal';
import { addEdit } from '$lib/store/edits';
import {
	deleteSession,
	listSessions,
	purgeDeleted,
	readSession,
	restoreSession,
	saveSummary
} from '$lib/store/sessions';
import type { RecordHead } from '$lib/record/head';
import type { UseStore } from '$lib/store/database';

async function keep(store: UseStore, ...heads: Partial<RecordHead>[]): Promise<void> {
	for (const head of heads) await openJournal(store, `of-${head.id}`).finish([makeRecord(head)]);
}

const at = (minute: number) => new Date(Date.UTC(2026, 2, 2, 20, minute)).toISOString();
const idsOf = async (store: UseStore) => (await listSessions(store)).sessions.map(({ head }) => head.id);

describe('the list of sessions', () => {
	it('is empty at first', async () => {
		expect(await listSessions(freshStore())).toEqual({ sessions: [], unreadable: [] });
	});

	it('has the newest first', async () => {
		const store = freshStore();
		await keep(
			store,
			{ id: 'b', startedAt: '2026-03-02T18:30:00.000Z' },
			{ id: 'c', startedAt: '2026-03-09T18:30:00.000Z' },
			{ id: 'a', startedAt: '2025-12-31T23:59:59.999Z' }
		);
		expect(await idsOf(store)).toEqual(['c', 'b', 'a']);
	});

	it('is made without reading a single body', async () => {
		const { store, requests } = watchedStore(freshStore());
		await keep(store, { id: 'a' }, { id: 'b' });
		await addEdit(store, 'a', { at: at(1), title: 'Hard one' });
		requests.length = 0;
		expect((await listSessions(store)).sessions).toHaveLength(2);
		expect(requests.length).toBeGreaterThan(0);
		expect(requests.filter(({ key }) => !/^(head|edit|tombstone)\//.test(key))).toEqual([]);
	});

	it('names what it cannot read, deletes nothing, and shows the others', async () => {
		const store = freshStore();
		await keep(store, { id: 'fine' });
		await plant(store, 'head/newer', { head: { version: 3, id: 'newer' } });
		await plant(store, 'head/torn', 'torn');
		await plant(store, `edit/fine/${at(1)}`, { at: at(1), effort: 'very' });
		const { sessions, unreadable } = await listSessions(store);
		expect(sessions.map(({ head }) => head.id)).toEqual(['fine']);
		expect(unreadable.map(({ key }) => key).sort()).toEqual([
			`edit/fine/${at(1)}`,
			'head/newer',
			'head/torn'
		]);
		expect(unreadable.find(({ key }) => key === 'head/newer')!.problem).toContain('newer version');
		expect(unreadable.find(({ key }) => key === 'head/torn')!.problem).toContain('damaged');
		expect(await allKeys(store)).toContain('head/torn');
	});
});

describe('one session', () => {
	it('comes back as it was stored', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		expect(await readSession(store, 'a')).toStrictEqual({
			status: 'found',
			record: makeRecord({ id: 'a' }),
			edit: {},
			unreadable: []
		});
	});

	it('is missing where there is none', async () => {
		expect(await readSession(freshStore(), 'nobody')).toMatchObject({ status: 'missing' });
	});

	it.each([
		['its readings are gone', 'body/a', undefined, /readings .* missing/],
		['its columns do not fit', 'body/a', { ...makeRecord().body, bpm: new Uint8Array(1) }, /bpm has 1/],
		['its body is of a newer form', 'body/a', { ...makeRecord().body, version: 9 }, /newer version/],
		['its head is damaged', 'head/a', { head: { ...makeHead(), plan: null } }, /damaged at "plan"/]
	])('is unreadable, with a sentence, where %s', async (_, key, value, sentence) => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		await plant(store, key, value);
		const reading = await readSession(store, 'a');
		expect(reading.status).toBe('unreadable');
		expect(reading).toHaveProperty('problem', expect.stringMatching(sentence));
	});
});

describe('corrections', () => {
	it('are folded by their time, the last writer of each field winning', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' }, { id: 'b' });
		await plant(store, `edit/a/${at(2)}`, { at: at(2), title: 'Late', effort: 7 });
		await plant(store, `edit/a/${at(1)}`, { at: at(1), title: 'Early', note: 'Left hand low' });
		await addEdit(store, 'a', { at: at(3), effort: 8, title: undefined });
		await addEdit(store, 'b', { at: at(4), title: 'Another' });
		const edit = { title: 'Late', note: 'Left hand low', effort: 8 };
		expect(await readSession(store, 'a')).toMatchObject({ edit });
		expect((await listSessions(store)).sessions.find(({ head }) => head.id === 'a')!.edit).toEqual(edit);
	});

	it('take effect though this clock is behind the one that the last was made by', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		await addEdit(store, 'a', { at: at(9), title: 'Sparing' });
		await addEdit(store, 'a', { at: at(1), title: 'Sparring' });
		expect(await readSession(store, 'a')).toMatchObject({ edit: { title: 'Sparring' } });
	});

	it('of one millisecond do not push each other out', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		await Promise.all([
			addEdit(store, 'a', { at: at(1), title: 'Six on the pads' }),
			addEdit(store, 'a', { at: at(1), note: 'Good feet' })
		]);
		expect(await readSession(store, 'a')).toMatchObject({
			edit: { title: 'Six on the pads', note: 'Good feet' }
		});
	});

	it('leave the record itself alone', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		const before = [await valueOf(store, 'head/a'), await valueOf(store, 'body/a')];
		await addEdit(store, 'a', { at: at(1), title: 'Renamed' });
		expect([await valueOf(store, 'head/a'), await valueOf(store, 'body/a')]).toEqual(before);
	});

	it('that could not be read back are refused', async () => {
		const store = freshStore();
		await expect(addEdit(store, 'a', { at: at(1), effort: 11 })).rejects.toThrow(/not stored.*effort/);
		expect(await allKeys(store)).toEqual([]);
	});

	it('that cannot be read are named beside those that can', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		await plant(store, `edit/a/${at(1)}`, 5);
		await addEdit(store, 'a', { at: at(2), note: 'Fine' });
		const reading = await readSession(store, 'a');
		expect(reading).toMatchObject({ status: 'found', edit: { note: 'Fine' } });
		expect(reading).toHaveProperty('unreadable', [{ key: `edit/a/${at(1)}`, problem: expect.any(String) }]);
	});
});

describe('a summary', () => {
	const summary = { ...summaryOf(makeRecord()), meanDrop60: 44.25, drop60Count: 3 };

	it('lies beside its head once it is saved', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		expect((await listSessions(store)).sessions[0]).not.toHaveProperty('summary');
		await saveSummary(store, 'a', summary, {});
		expect((await listSessions(store)).sessions[0]).toEqual({
			head: makeHead({ id: 'a' }),
			edit: {},
			summary
		});
		expect(await readSession(store, 'a')).toHaveProperty('summary', summary);
	});

	it.each([
		['by other methods', { ...summary, methodsVersion: methodsVersion + 1 }],
		['damaged', { ...summary, workS: 'long' }],
		['not a number somewhere', { ...summary, meanDrop60: NaN }]
	])('that is %s is left aside, to be computed afresh', async (_, stored) => {
		const store = freshStore();
		await plant(store, 'head/a', { head: makeHead({ id: 'a' }), summary: stored });
		const { sessions, unreadable } = await listSessions(store);
		expect(sessions[0]).not.toHaveProperty('summary');
		expect(unreadable).toEqual([]);
	});

	it('of a record that is gone brings nothing back', async () => {
		const store = freshStore();
		await saveSummary(store, 'gone', summary, {});
		expect(await allKeys(store)).toEqual([]);
	});
});

describe('deleting', () => {
	const day = 86_400_000;

	it('takes a session out of sight and can be undone, corrections and all', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' }, { id: 'b' });
		await addEdit(store, 'a', { at: at(1), title: 'Kept' });
		const before = await listSessions(store);
		await deleteSession(store, 'a');
		expect(await idsOf(store)).toEqual(['b']);
		expect(await readSession(store, 'a')).toMatchObject({
			status: 'missing',
			problem: expect.stringMatching(/deleted/)
		});
		await restoreSession(store, 'a');
		expect(await listSessions(store)).toEqual(before);
		expect(await readSession(store, 'a')).toMatchObject({ status: 'found', edit: { title: 'Kept' } });
	});

	it('is final once purged, for those deleted long enough ago and for no others', async () => {
		const store = freshStore();
		await keep(store, { id: 'old' }, { id: 'fresh' }, { id: 'kept' });
		for (const id of ['old', 'fresh', 'kept']) await addEdit(store, id, { at: at(1), title: id });
		await deleteSession(store, 'old', 10 * day);
		await deleteSession(store, 'fresh', 10 * day + 1);
		expect(await purgeDeleted(store, 7 * day, 17 * day)).toBe(1);
		// That it is gone stays known, so that no shared folder brings it back.
		expect((await allKeys(store)).filter((key) => key.includes('old'))).toEqual(['shared/session/old']);
		expect(await idsOf(store)).toEqual(['kept']);
		await restoreSession(store, 'fresh');
		expect((await idsOf(store)).sort()).toEqual(['fresh', 'kept']);
		expect(await readSession(store, 'fresh')).toMatchObject({ status: 'found', edit: { title: 'fresh' } });
	});

	it('purges nothing on the word of a damaged tombstone', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' });
		await plant(store, 'tombstone/a', { deletedAtMs: 'long ago' });
		expect(await purgeDeleted(store, 0, 20 * day)).toBe(0);
		await restoreSession(store, 'a');
		expect(await idsOf(store)).toEqual(['a']);
	});

	it('purges all that is due or, where the browser dies in the middle, nothing', async () => {
		const store = freshStore();
		await keep(store, { id: 'a' }, { id: 'b' });
		for (const id of ['a', 'b']) await deleteSession(store, id, 0);
		const before = await allKeys(store);
		await expect(purgeDeleted(abortingStore(store, null), 0, day)).rejects.toMatchObject({ code: 'failed' });
		expect(await allKeys(store)).toEqual(before);
	});
});
