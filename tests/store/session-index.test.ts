import { beforeEach, describe, expect, it } from 'vitest';
import { makeRecord } from './builders';
import { abortingStore, watchedStore } from './faulty-store';
import { allKeys, freshStore, plant } from './fresh-store';
import { openJournal } from '$lib/store/journal';
import {
	athletesWithoutCard,
	idsOfAthlete,
	listedSessions,
	newestOfAthlete,
	openSessionIndex,
	orderOfSessions
} from '$lib/store/session-index';
import { addEdit } from '$lib/store/edits';
import { deleteSession, listSessions, purgeDeleted, restoreSession } from '$lib/store/sessions';
import type { RecordHead } from '$lib/record/head';
import type { UseStore } from '$lib/store/database';

let store: UseStore;
let index: UseStore;
beforeEach(() => {
	store = freshStore();
	index = openSessionIndex();
});

async function keep(...heads: Partial<RecordHead>[]): Promise<void> {
	for (const head of heads) await openJournal(store, `of-${head.id}`).finish([makeRecord(head)]);
}
const on = (day: number) => new Date(Date.UTC(2026, 2, day, 20)).toISOString();
const idsOf = async () => (await orderOfSessions(store, index)).ids;

describe('the order of sessions', () => {
	it('has the newest first, and follows what is kept, deleted, brought back and purged', async () => {
		expect(await idsOf()).toEqual([]);
		await keep({ id: 'b', startedAt: on(2) }, { id: 'a', startedAt: on(3) }, { id: 'c', startedAt: on(1) });
		expect(await idsOf()).toEqual(['a', 'b', 'c']);
		await keep({ id: 'd', startedAt: on(9) });
		expect(await idsOf()).toEqual(['d', 'a', 'b', 'c']);
		await deleteSession(store, 'a', 0);
		expect(await idsOf()).toEqual(['d', 'b', 'c']);
		await restoreSession(store, 'a');
		expect(await idsOf()).toEqual(['d', 'a', 'b', 'c']);
		await deleteSession(store, 'a', 0);
		await purgeDeleted(store, 0, 1);
		expect(await idsOf()).toEqual(['d', 'b', 'c']);
		expect(await allKeys(index)).toEqual(['all']);
	});

	it('looks at a head once, and at a body never', async () => {
		await keep({ id: 'a' }, { id: 'b' }, { id: 'c' });
		const watched = watchedStore(store);
		const read = () => watched.requests.map(({ key }) => key).filter((key) => /^(head|body)\/./.test(key));
		expect(await idsOf()).toHaveLength(3);
		await keep({ id: 'd' });
		await orderOfSessions(watched.store, index);
		expect(read()).toEqual(['head/d']);
		watched.requests.length = 0;
		await orderOfSessions(watched.store, index);
		expect(read()).toEqual([]);
	});

	it('leads to the newest of one athlete without a body, or a head of the others', async () => {
		const mine = { ...makeRecord().head.athlete, athleteId: 'mine' };
		await keep({ id: 'a', startedAt: on(1), athlete: mine }, { id: 'b', startedAt: on(4) });
		await keep({ id: 'c', startedAt: on(3), athlete: mine }, { id: 'd', startedAt: on(2), athlete: mine });
		await idsOf();
		const watched = watchedStore(store);
		const found = await newestOfAthlete(watched.store, index, 'mine', 2);
		expect(found.map(({ head }) => head.id)).toEqual(['c', 'd']);
		const read = watched.requests.map(({ key }) => key).filter((key) => /^(head|body)\/./.test(key));
		expect(read).toEqual(['head/c', 'head/d']);
		expect(await newestOfAthlete(store, index, 'mine')).toHaveLength(3);
	});

	it('mends itself where it is of an earlier form, or torn', async () => {
		await keep({ id: 'a', startedAt: on(2) }, { id: 'b', startedAt: on(3) });
		await plant(index, 'a', { startedAt: on(2), athleteId: 'x' });
		expect(await idsOf()).toEqual(['b', 'a']);
		expect(await allKeys(index)).toEqual(['all']);
		await plant(index, 'all', { ids: ['a', 'b'], begunMs: new Float64Array(1), athleteIds: ['x', 'x'] });
		expect(await idsOf()).toEqual(['b', 'a']);
	});

	it('is the same where the disk is too full for the index, and where that cannot be opened at all', async () => {
		await keep({ id: 'a', startedAt: on(2) }, { id: 'b', startedAt: on(3) });
		const full = abortingStore(index, 'QuotaExceededError');
		expect((await orderOfSessions(store, full)).ids).toEqual(['b', 'a']);
		expect(await allKeys(index)).toEqual([]);
		const shut: UseStore = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));
		expect((await orderOfSessions(store, shut)).ids).toEqual(['b', 'a']);
	});

	it('names what it cannot read each time, until that is deleted', async () => {
		await keep({ id: 'fine' });
		await plant(store, 'head/torn', 'torn');
		for (let i = 0; i < 2; i++) {
			const { ids, unreadable } = await orderOfSessions(store, index);
			expect(ids).toEqual(['fine']);
			expect(unreadable.map(({ key }) => key)).toEqual(['head/torn']);
		}
		await deleteSession(store, 'torn');
		expect((await orderOfSessions(store, index)).unreadable).toEqual([]);
	});

	it('leads to the same sessions as the whole list', async () => {
		await keep({ id: 'a', startedAt: on(2) }, { id: 'b', startedAt: on(3) });
		await addEdit(store, 'a', { at: on(4), title: 'Hard one' });
		await plant(store, `edit/b/${on(4)}`, { at: on(4), effort: 'very' });
		expect(await listedSessions(store, await idsOf())).toEqual(await listSessions(store));
		expect((await listedSessions(store, ['gone', 'a'])).sessions.map(({ head }) => head.id)).toEqual(['a']);
	});
});

describe('whose the sessions are', () => {
	const of = (id: string, athleteId: string, day: number) => ({
		id,
		startedAt: on(day),
		athlete: { athleteId, name: `${athleteId} in ${id}` }
	});

	it('is what was noted, unless a correction gave one to another athlete; no body is read for it', async () => {
		await keep(of('a', 'nerea', 1), of('b', 'tomas', 2), of('c', 'nerea', 3));
		await addEdit(store, 'a', { at: on(5), athlete: { id: 'tomas', name: 'Tomas' } });
		const watched = watchedStore(store);
		const order = await orderOfSessions(watched.store, index);
		expect(await idsOfAthlete(watched.store, order, 'tomas')).toEqual(['b', 'a']);
		expect(await idsOfAthlete(watched.store, order, 'nerea')).toEqual(['c']);
		expect(watched.requests.filter(({ key }) => key.startsWith('body/'))).toEqual([]);
	});

	it('counts a session that a correction gave to another athlete as theirs, with a card or without', async () => {
		await keep(of('a', 'gone', 1), of('b', 'nerea', 2), of('c', 'nerea', 3));
		await addEdit(store, 'a', { at: on(5), athlete: { id: 'nerea', name: 'Nerea' } });
		await addEdit(store, 'b', { at: on(5), athlete: { id: 'tomas', name: 'Tomas' } });
		const order = await orderOfSessions(store, index);
		expect(await athletesWithoutCard(store, order, [{ id: 'nerea' }])).toEqual([
			{ id: 'tomas', name: 'Tomas' }
		]);
	});

	it('is told of those without a card by the name in their newest session, the only head looked at', async () => {
		await keep(of('a', 'nerea', 1), of('b', 'adem', 2), of('c', 'adem', 3), of('d', 'tomas', 4));
		const order = await orderOfSessions(store, index);
		const watched = watchedStore(store);
		expect(await athletesWithoutCard(watched.store, order, [{ id: 'nerea' }])).toEqual([
			{ id: 'tomas', name: 'tomas in d' },
			{ id: 'adem', name: 'adem in c' }
		]);
		expect(watched.requests.map(({ key }) => key).filter((key) => /^(head|body)\/./.test(key))).toEqual([
			'head/d',
			'head/c'
		]);
	});
});
