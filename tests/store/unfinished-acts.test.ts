import { describe, expect, it, vi } from 'vitest';
import { discardIt, goOnWith, keepIt } from '../../src/routes/unfinished-acts';
import { abortingStore } from './faulty-store';
import { makeStart, readingEntry, startEntry } from './builders';
import { allKeys, freshStore } from './fresh-store';
import { unpackReadings } from '$lib/record/columns';
import { openJournal, unfinishedJournal } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';

/** A session that was listed here when it was a minute long, and that another tab went on with since. */
async function setUp({ isTaken = false, more = 2 } = {}) {
	const store = freshStore();
	await openJournal(store, 'ses-1').append([startEntry, readingEntry({ ms: 60_000 })]);
	const listed = (await unfinishedJournal(store, 'ses-1'))!;
	for (let i = 2; i < 2 + more; i++)
		await openJournal(store, 'ses-1').append([readingEntry({ ms: i * 60_000 })]);
	const tabs = { take: vi.fn(() => Promise.resolve(!isTaken)), giveBack: vi.fn() };
	return { store, listed, tabs, elsewhere: openJournal(store, 'ses-1') };
}
const readingsKept = async (store: ReturnType<typeof freshStore>) => {
	const found = await readSession(store, 'rec-1');
	return found.status === 'found' ? unpackReadings(found.record.body).length : found.status;
};

describe('an unfinished session that another tab went on with since it was listed', () => {
	it('is kept whole', async () => {
		const { store, listed, tabs } = await setUp();
		const onKept = vi.fn(() => Promise.resolve());
		expect(await keepIt({ store, tabs }, listed, onKept)).toBeUndefined();
		expect(onKept).toHaveBeenCalledWith('rec-1');
		expect(await readingsKept(store)).toBe(3);
		expect(tabs.giveBack).toHaveBeenCalledOnce();
	});

	it('goes on whole, and this tab stays the one that records', async () => {
		const { store, listed, tabs } = await setUp();
		const goOn = vi.fn();
		expect(await goOnWith({ store, tabs }, listed, goOn)).toBeUndefined();
		const readings = [1, 2, 3].map((minute) => readingEntry({ ms: minute * 60_000 }));
		expect(goOn).toHaveBeenCalledWith(makeStart(), [startEntry, ...readings]);
		expect(tabs.giveBack).not.toHaveBeenCalled();
	});

	it('is not discarded before it was looked at again', async () => {
		const { store, listed, tabs } = await setUp();
		expect(await discardIt({ store, tabs }, listed)).toMatch(/gone on with that session since\. Look/);
		const again = await unfinishedJournal(store, 'ses-1');
		expect(again!.entries).toHaveLength(4);
		expect(await discardIt({ store, tabs }, again!)).toBeUndefined();
		expect(await allKeys(store)).toEqual([]);
		expect(tabs.giveBack).toHaveBeenCalledTimes(2);
	});
});

describe('an unfinished session that cannot be had', () => {
	it('stays as it is while another tab records', async () => {
		const { store, listed, tabs } = await setUp({ isTaken: true });
		const before = await allKeys(store);
		const onKept = vi.fn(() => Promise.resolve());
		expect(await keepIt({ store, tabs }, listed, onKept)).toMatch(/^Another tab records or restores/);
		expect(await discardIt({ store, tabs }, listed)).toMatch(/^Another tab records or restores/);
		expect(onKept).not.toHaveBeenCalled();
		expect(await allKeys(store)).toEqual(before);
		expect(tabs.giveBack).not.toHaveBeenCalled();
	});

	it('is said to be gone where another tab has kept it', async () => {
		const { store, listed, tabs, elsewhere } = await setUp();
		await keepIt({ store, tabs }, listed, () => Promise.resolve());
		await expect(elsewhere.append([startEntry])).resolves.toBeUndefined();
		await elsewhere.discard();
		expect(await keepIt({ store, tabs }, listed, () => Promise.resolve())).toMatch(
			/^Nothing of that session/
		);
		expect(await readingsKept(store)).toBe(3);
		const goOn = vi.fn();
		expect(await goOnWith({ store, tabs }, listed, goOn)).toMatch(/^Nothing of that session/);
		expect(goOn).not.toHaveBeenCalled();
		expect(await discardIt({ store, tabs }, listed)).toBeUndefined();
		expect(tabs.giveBack).toHaveBeenCalledTimes(4);
	});

	it('says why where the disk is full, and stays', async () => {
		const { store, listed, tabs } = await setUp({ more: 0 });
		const full = abortingStore(store, 'QuotaExceededError');
		const refused = /^Not done\. The disk, .* is full\.$/;
		expect(await keepIt({ store: full, tabs }, listed, () => Promise.resolve())).toMatch(refused);
		expect(await discardIt({ store: full, tabs }, listed)).toMatch(refused);
		expect((await unfinishedJournal(store, 'ses-1'))!.entries).toHaveLength(2);
		expect(tabs.giveBack).toHaveBeenCalledTimes(2);
	});
});
