import { beforeEach, describe, expect, it } from 'vitest';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';
import type { UseStore } from '$lib/store/database';
import { openJournal } from '$lib/store/journal';
import { OpenedSession } from '$lib/store/opened-session.svelte';
import { deleteSession, readSession } from '$lib/store/sessions';

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
