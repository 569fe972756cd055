import { beforeEach, describe, expect, it, vi } from 'vitest';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';
import { summaryOf } from '$lib/review/summary';
import type { measureAfresh } from '$lib/store/fresh-summaries';
import { addEdit } from '$lib/store/edits';
import { openJournal } from '$lib/store/journal';
import { KeptSessions } from '$lib/store/kept-sessions.svelte';
import { lastOrder } from '$lib/store/session-index';
import { deleteSession, readSession, saveSummary } from '$lib/store/sessions';
import type { UseStore } from '$lib/store/database';
import type { RecordHead } from '$lib/record/head';

let store: UseStore;
beforeEach(async () => {
	store = freshStore();
	await keep(
		{ id: 'old', startedAt: on(1) },
		{ id: 'new', startedAt: on(9) },
		{ id: 'middle', startedAt: on(5) }
	);
});

const on = (day: number) => new Date(Date.UTC(2026, 2, day, 20)).toISOString();
async function keep(...heads: Partial<RecordHead>[]): Promise<void> {
	for (const head of heads) await openJournal(store, `of-${head.id}`).finish([makeRecord(head)]);
}

/** Measures without a worker. What is under way when a test ends must not reach the store of the next. */
const measured: typeof measureAfresh = (ids, onProgress) => {
	const own = store;
	const work = async () => {
		for (const [i, id] of ids.entries()) {
			const found = await readSession(own, id);
			if (found.status === 'found') await saveSummary(own, id, summaryOf(found.record), found.edit);
			onProgress(i + 1);
		}
		return true;
	};
	return { finished: work(), stop: () => undefined };
};
const idsOf = (kept: KeptSessions) => kept.sessions?.map(({ head }) => head.id);

describe('the kept sessions of a screen', () => {
	it('are the newest so many, and how many there are', async () => {
		const kept = new KeptSessions(store, measured);
		await kept.list({ count: 2 });
		expect(idsOf(kept)).toEqual(['new', 'middle']);
		expect(kept.total).toBe(3);
	});

	it('are those of so many days up to the newest, whenever that was, and how many there are', async () => {
		const kept = new KeptSessions(store, measured);
		await kept.list({ days: 4 });
		expect(idsOf(kept)).toEqual(['new', 'middle']);
		expect(kept.total).toBe(3);
		await kept.list({ days: 3 });
		expect(idsOf(kept)).toEqual(['new']);
		await deleteSession(store, 'new');
		await vi.waitFor(() => expect(idsOf(kept)).toEqual(['middle']));
		await kept.list({ days: 3, athleteId: 'nobody' });
		expect(idsOf(kept)).toEqual([]);
	});

	it.each([true, false])(
		'are the first of them before the others (others have listed them: %s)',
		async (isKnown) => {
			let open = () => {};
			const opened = new Promise<void>((resolve) => (open = resolve));
			// Nothing more is answered once something is shown.
			const gated: UseStore = async (mode, work) => {
				if (kept.sessions) await opened;
				return store(mode, work);
			};
			const kept = new KeptSessions(gated, measured);
			if (isKnown) await new KeptSessions(gated, measured).list({});
			const listing = kept.list({ first: 1 });
			await vi.waitFor(() => expect(kept.sessions).toBeDefined());
			expect(idsOf(kept)).toEqual(['new']);
			expect(kept.total).toBe(3);
			open();
			await listing;
			expect(idsOf(kept)).toEqual(['new', 'middle', 'old']);
			const again = kept.list({ first: 1, count: 2 });
			expect(idsOf(kept), 'what stands there does not go').toEqual(['new', 'middle', 'old']);
			await again;
			expect(idsOf(kept)).toEqual(['new', 'middle']);
		}
	);

	it('are read once where the first of them are all', async () => {
		const opened: IDBTransactionMode[] = [];
		const counted: UseStore = (mode, work) => {
			opened.push(mode);
			return store(mode, work);
		};
		const earlier = new KeptSessions(counted, measured);
		await earlier.list({});
		await vi.waitFor(() => expect(earlier.afresh).toBeUndefined());
		earlier.close();
		opened.length = 0;
		await new KeptSessions(counted, measured).list({});
		const atOnce = opened.splice(0).length;
		expect(atOnce).toBeGreaterThan(0);
		await new KeptSessions(counted, measured).list({ first: 3 });
		expect(opened).toHaveLength(atOnce);
	});

	it('are there at once where another screen has listed them, and then those that were written unseen', async () => {
		let open = () => {};
		const opened = new Promise<void>((resolve) => (open = resolve));
		let callsLeft = Infinity;
		const gated: UseStore = async (mode, work) => {
			if (callsLeft-- <= 0) await opened;
			return store(mode, work);
		};
		await new KeptSessions(gated, measured).list({});
		callsLeft = 1;
		const kept = new KeptSessions(gated, measured);
		const listing = kept.list({});
		await vi.waitFor(() => expect(idsOf(kept)).toEqual(['new', 'middle', 'old']));
		await keep({ id: 'unseen', startedAt: on(7) });
		open();
		await listing;
		expect(idsOf(kept)).toEqual(['new', 'unseen', 'middle', 'old']);
	});

	it('are not shown from memory once one was deleted', async () => {
		await new KeptSessions(store, measured).list({});
		expect(lastOrder(store)?.ids).toEqual(['new', 'middle', 'old']);
		await deleteSession(store, 'middle');
		expect(lastOrder(store)).toBeUndefined();
		const kept = new KeptSessions(store, measured);
		await kept.list({});
		expect(idsOf(kept)).toEqual(['new', 'old']);
	});

	it('are measured afresh where they have no figures, and shown with them', async () => {
		const kept = new KeptSessions(store, measured);
		await kept.list({});
		expect(kept.afresh?.total).toBe(3);
		await vi.waitFor(() => expect(kept.afresh).toBeUndefined());
		expect(kept.sessions?.every(({ summary }) => summary)).toBe(true);
		expect(kept.trouble).toBeUndefined();
	});

	it('are listed again as they were asked for, once something of them is written', async () => {
		const kept = new KeptSessions(store, measured);
		await kept.list({ count: 2 });
		await deleteSession(store, 'new');
		await vi.waitFor(() => expect(idsOf(kept)).toEqual(['middle', 'old']));
		expect(kept.total).toBe(2);
		await addEdit(store, 'old', { at: on(11), title: 'Left hand' });
		await vi.waitFor(() => expect(kept.sessions?.at(-1)?.edit.title).toBe('Left hand'));
	});

	it('are not measured again because their own figures were kept', async () => {
		const asked: string[][] = [];
		const kept = new KeptSessions(store, (ids, onProgress) => {
			asked.push([...ids]);
			return measured(ids, onProgress);
		});
		await kept.list({});
		await vi.waitFor(() => expect(kept.afresh).toBeUndefined());
		await addEdit(store, 'old', { at: on(11), title: 'Left hand' });
		await vi.waitFor(() => expect(kept.sessions?.at(-1)?.edit.title).toBe('Left hand'));
		expect(asked).toEqual([['new', 'middle', 'old']]);
	});

	it('come one listing after the other where much is written, and each is shown', async () => {
		const kept = new KeptSessions(store, measured);
		await kept.list({});
		await keep(...[10, 11, 12, 13].map((day) => ({ id: `day-${day}`, startedAt: on(day) })));
		await vi.waitFor(() => expect(kept.total).toBe(7));
	});

	it('are those asked for last, whichever answer comes first', async () => {
		await keep({ id: 'hers', startedAt: on(10), athlete: { athleteId: 'ath-9', name: 'Mirren' } });
		const kept = new KeptSessions(store, measured);
		const all = kept.list({});
		await kept.list({ athleteId: 'ath-9' });
		await all;
		expect(idsOf(kept)).toEqual(['hers']);
	});

	it('say that they could not be measured, and stay listed', async () => {
		const kept = new KeptSessions(store, () => ({
			finished: Promise.reject(new Error('no worker')),
			stop: () => undefined
		}));
		await kept.list({});
		await vi.waitFor(() => expect(kept.trouble).toBe('not measured'));
		expect(idsOf(kept)).toEqual(['new', 'middle', 'old']);
	});

	it('say that there is no store', async () => {
		const kept = new KeptSessions(
			() => Promise.reject(new DOMException('no', 'InvalidStateError')),
			measured
		);
		await kept.list({});
		expect(kept.trouble).toBe('no store');
		expect(kept.sessions).toBeUndefined();
	});

	it('are not touched any more once the screen has gone', async () => {
		const kept = new KeptSessions(store, measured);
		const listing = kept.list({});
		kept.close();
		await listing;
		expect(kept.sessions).toBeUndefined();
		const watching = new KeptSessions(store, measured);
		await watching.list({});
		await kept.list({});
		kept.close();
		const shown = idsOf(kept);
		await deleteSession(store, 'new');
		await vi.waitFor(() => expect(watching.total).toBe(2));
		expect(idsOf(kept)).toEqual(shown);
	});
});
