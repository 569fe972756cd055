import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { makeRecord } from './builders';
import { freshStore, plant } from './fresh-store';
import type { UseStore } from '$lib/store/database';
import { addEdit } from '$lib/store/edits';
import { openJournal } from '$lib/store/journal';
import { OpenedSession } from '$lib/store/opened-session.svelte';
import { deleteSession, readSession, restoreSession } from '$lib/store/sessions';

let store: UseStore;
beforeEach(async () => {
	store = freshStore();
	await openJournal(store, 's').finish([makeRecord({ id: 'one' })]);
});

describe('the session that a screen shows', () => {
	it('is read and measured', async () => {
		const session = new OpenedSession(store);
		await session.open('one');
		expect(session.found?.record.head.id).toBe('one');
		expect(session.reviewed?.summary.rounds.length).toBeGreaterThan(0);
		expect(session.whyNotMeasured).toBe('');
	});

	it('says what is wrong with one that is not there', async () => {
		const session = new OpenedSession(store);
		await session.open('two');
		expect(session.reading).toEqual({
			status: 'missing',
			problem: 'There is no such session in this browser.'
		});
		await session.open('');
		expect(session.reading).toMatchObject({ problem: 'No session was named.' });
	});

	it('shows a later entry at once, and keeps the figures that go with it', async () => {
		const session = new OpenedSession(store);
		await session.open('one');
		await session.change({ note: 'southpaw' }, []);
		await session.change({ activity: 'bag' }, []);
		expect(session.found?.edit).toMatchObject({ note: 'southpaw', activity: 'bag' });
		expect(session.reviewed?.record.head.plan.activity).toBe('bag');
		const kept = await readSession(store, 'one');
		expect(kept).toMatchObject({ edit: { note: 'southpaw' }, summary: session.reviewed?.summary });
	});

	it('knows when its note was written last, and no other entry moves that', async () => {
		const session = new OpenedSession(store);
		await session.open('one');
		expect(session.found?.noteAt).toBeUndefined();
		await session.change({ note: 'southpaw' }, []);
		const { noteAt } = session.found!;
		expect(noteAt).toMatch(/^\d{4}-.*Z$/);
		await session.change({ effort: 7 }, []);
		const kept = await readSession(store, 'one');
		expect(kept).toMatchObject({ noteAt });
	});

	it('shows two entries that are made before the first is kept', async () => {
		const session = new OpenedSession(store);
		await session.open('one');
		await Promise.all([session.change({ note: 'southpaw' }, []), session.change({ activity: 'bag' }, [])]);
		expect(session.found?.edit).toMatchObject({ note: 'southpaw', activity: 'bag' });
	});

	it('stands beside those of the other corners, and counts the missing ones', async () => {
		const group = ['red', 'blue', 'gone'];
		await openJournal(store, 'g').finish(group.map((id) => makeRecord({ id, group })));
		await deleteSession(store, 'gone');
		const session = new OpenedSession(store);
		await session.open('red');
		await session.openGroup();
		expect(session.group?.missing).toBe(1);
	});

	it('says that there is no store', async () => {
		const session = new OpenedSession(() => Promise.reject(new DOMException('no', 'InvalidStateError')));
		await session.open('one');
		expect(session.hasNoStore).toBe(true);
	});
});

describe('what is written elsewhere of the session that a screen shows', () => {
	let session: OpenedSession;
	let stop: () => void;
	const at = (minute: number) => new Date(Date.UTC(2030, 2, 3, 20, minute)).toISOString();
	beforeEach(() => {
		session = new OpenedSession(store);
		stop = session.follow();
	});
	afterEach(() => stop());

	it('is shown, and measured where it changes a measure', async () => {
		await session.open('one');
		await addEdit(store, 'one', { at: at(1), activity: 'bag', note: 'southpaw' });
		await vi.waitFor(() => expect(session.found?.edit.note).toBe('southpaw'));
		expect(session.found?.noteAt).toBe(at(1));
		expect(session.reviewed?.record.head.plan.activity).toBe('bag');
	});
	it('leaves the readings alone where only a note or an effort came', async () => {
		await session.open('one');
		const { reviewed } = session;
		const { record } = session.found!;
		await addEdit(store, 'one', { at: at(1), effort: 6 });
		await vi.waitFor(() => expect(session.found?.edit.effort).toBe(6));
		expect(session.reviewed).toBe(reviewed);
		expect(session.found?.record).toBe(record);
	});
	it('is not looked for where another session was written', async () => {
		await openJournal(store, 't').finish([makeRecord({ id: 'two' })]);
		let reads = 0;
		const counted: UseStore = (mode, work) => {
			reads++;
			return store(mode, work);
		};
		const watched = new OpenedSession(counted);
		const end = watched.follow();
		await watched.open('one');
		const before = reads;
		await addEdit(counted, 'two', { at: at(1), effort: 6 });
		await addEdit(counted, 'one', { at: at(1), effort: 6 });
		await vi.waitFor(() => expect(watched.found?.edit.effort).toBe(6));
		// The two writes, and one look at the session that is shown.
		expect(reads - before).toBe(3);
		end();
	});
	it('is no other than what this window has shown and measured itself', async () => {
		await session.open('one');
		await session.change({ activity: 'bag' }, []);
		const { reading, reviewed } = session;
		await session.change({ note: 'southpaw' }, []);
		expect(session.reviewed).toBe(reviewed);
		expect(reading).toMatchObject({ edit: { activity: 'bag' } });
		expect(session.found?.edit).toEqual({ activity: 'bag', note: 'southpaw' });
	});
	it('is shown though it came while a change of this window was being kept', async () => {
		await session.open('one');
		await Promise.all([
			session.change({ note: 'southpaw' }, []),
			addEdit(store, 'one', { at: at(1), effort: 6 })
		]);
		await vi.waitFor(() => expect(session.found?.edit).toEqual({ note: 'southpaw', effort: 6 }));
	});
	it('may take it away: it stands as it was, with the reason, until it is brought back', async () => {
		await session.open('one');
		await deleteSession(store, 'one');
		await vi.waitFor(() => expect(session.lost).toBe('This session was deleted.'));
		expect(session.found?.record.head.id).toBe('one');
		await restoreSession(store, 'one');
		await vi.waitFor(() => expect(session.lost).toBe(''));
	});
	it('is no news to the screen that takes it away itself', async () => {
		await session.open('one');
		await session.remove();
		await restoreSession(store, 'one');
		await deleteSession(store, 'one');
		expect(await readSession(store, 'one')).toMatchObject({ status: 'missing' });
		expect(session.lost).toBe('');
	});
	it('may bring it, with the other corners that were asked for', async () => {
		const group = ['red', 'blue'];
		await session.open('red');
		await session.openGroup();
		expect(session.reading?.status).toBe('missing');
		await openJournal(store, 'g').finish(group.map((id) => makeRecord({ id, group })));
		await vi.waitFor(() => expect(session.group?.missing).toBe(0));
		expect(session.reviewed?.summary.rounds.length).toBeGreaterThan(0);
	});
	it('of another corner is shown beside it', async () => {
		const group = ['red', 'blue'];
		await openJournal(store, 'g').finish(group.map((id) => makeRecord({ id, group })));
		await session.open('red');
		await session.openGroup();
		const names = () => JSON.stringify(session.group?.table);
		expect(names()).not.toContain('Bo');
		await addEdit(store, 'blue', { at: at(1), athlete: { id: 'ath-2', name: 'Bo' } });
		await vi.waitFor(() => expect(names()).toContain('Bo'));
	});
	it('is nothing to a screen that was left', async () => {
		await session.open('one');
		stop();
		const other = new OpenedSession(store);
		const end = other.follow();
		await other.open('one');
		await addEdit(store, 'one', { at: at(1), effort: 6 });
		await vi.waitFor(() => expect(other.found?.edit.effort).toBe(6));
		expect(session.found?.edit.effort).toBeUndefined();
		end();
	});
	it('that cannot be read takes the place of nothing', async () => {
		await session.open('one');
		await plant(store, 'head/one', 'nothing');
		await addEdit(store, 'one', { at: at(1), effort: 6 });
		await vi.waitFor(() => expect(session.lost).toMatch(/damaged/));
		expect(session.found?.record.head.id).toBe('one');
	});
});
