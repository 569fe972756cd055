import { sessionJson } from '$lib/store/export';
import { openJournal } from '$lib/store/journal';
import { planRestore, restore, type RestorePlan } from '$lib/store/backup/restore';
import { addEdit } from '$lib/store/edits';
import { deleteSession, listSessions, readSession } from '$lib/store/sessions';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { edits, records } from './arbitraries';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';

async function planned(store: ReturnType<typeof freshStore>, text: string): Promise<RestorePlan> {
	const plan = await planRestore(store, text);
	if (plan.status === 'refused') throw new Error(plan.problem);
	return plan;
}
const outcomes = ({ groups }: RestorePlan) =>
	groups.map(({ kind, added, changed, skipped }) => [kind, added.length, changed.length, skipped.length]);

describe('the file of one session', () => {
	const record = makeRecord();
	const text = sessionJson(record, { title: 'Hard pads' });

	it('comes in again whole, whatever was recorded and noted', async () => {
		await fc.assert(
			fc.asyncProperty(records, edits, async (any, edit) => {
				const store = freshStore();
				const plan = await planned(store, sessionJson(any, edit));
				expect(plan.session).toEqual({ head: any.head, readingCount: any.body.stepMs.length });
				expect(await restore(store, plan)).toEqual({ status: 'restored' });
				const found = await readSession(store, any.head.id);
				expect(found).toMatchObject({ status: 'found', record: any });
				expect(found).toHaveProperty('edit', edit);
			}),
			{ numRuns: 30 }
		);
	});

	it('says before anything is written that it would be added', async () => {
		const store = freshStore();
		const plan = await planned(store, text);
		expect(outcomes(plan)).toEqual([['Sessions', 1, 0, 0]]);
		expect((await listSessions(store)).sessions).toEqual([]);
	});

	it('says that the session is here already, and brings no notes over those here', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').finish([record]);
		await addEdit(store, record.head.id, { at: '2026-03-02T20:00:00.000Z', note: 'mine' });
		const plan = await planned(store, text);
		expect(plan.isIdle).toBe(true);
		expect(plan.groups[0]!.skipped).toEqual([expect.objectContaining({ why: 'already here' })]);
		await restore(store, plan);
		expect(await readSession(store, record.head.id)).toMatchObject({ edit: { note: 'mine' } });
		expect((await listSessions(store)).sessions[0]!.edit).not.toHaveProperty('title');
	});

	it('leaves another session of the same id as it is', async () => {
		const store = freshStore();
		const other = makeRecord({ strapName: 'Another strap' });
		await openJournal(store, 'ses-1').finish([other]);
		const plan = await planned(store, text);
		expect(plan.isIdle).toBe(true);
		expect(plan.groups[0]!.skipped[0]!.why).toMatch(/another session with the same id/);
	});

	it('brings back one that was deleted here, if that is confirmed', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').finish([record]);
		await deleteSession(store, record.head.id);
		const plan = await planned(store, text);
		expect(plan.groups[0]!.changed[0]!.why).toMatch(/deleted here and comes back/);
		await restore(store, plan);
		expect((await readSession(store, record.head.id)).status).toBe('found');
	});

	it.each([
		['cut short', text.slice(0, -40), /not JSON, or it was cut short/],
		['of a newer page', text.replace('"version":1', '"version":99'), /newer version/],
		['that lasts for years', text.replace('"endedMs":1480000', '"endedMs":1e15'), /damaged at "endedMs"/]
	])('is refused in words: one %s', async (_, broken, words) => {
		expect(broken).not.toBe(text);
		expect(await planRestore(freshStore(), broken)).toEqual({
			status: 'refused',
			problem: expect.stringMatching(words)
		});
	});
});
