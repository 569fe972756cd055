import { promisifyRequest } from 'idb-keyval';
import { describe, expect, it } from 'vitest';
import { makeRecord, makeStart, readingEntry, startEntry } from './builders';
import { abortingStore, watchedStore } from './faulty-store';
import { allKeys, freshStore, plant, valueOf } from './fresh-store';
import { RecordBuilder } from '$lib/record/record-builder';
import { openJournal, unfinishedJournals } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';
import { JournalGone, type JournalEntry } from '$lib/record/journal';
import type { UseStore } from '$lib/store/database';

async function journalled(store: UseStore, sessionId = 'ses-1'): Promise<JournalEntry[]> {
	return (await unfinishedJournals(store)).find((journal) => journal.sessionId === sessionId)?.entries ?? [];
}

describe('a journal', () => {
	it('is found again with its start and every entry, in order', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry, readingEntry({ ms: -400 })]);
		await sink.append([readingEntry({ ms: 600, rrMs: [] })]);
		expect(await unfinishedJournals(store)).toStrictEqual([
			{
				sessionId: 'ses-1',
				start: makeStart(),
				entries: [startEntry, readingEntry({ ms: -400 }), readingEntry({ ms: 600, rrMs: [] })]
			}
		]);
	});

	it('adds one chunk a call and leaves the earlier ones alone', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry]);
		await sink.append([readingEntry({ ms: 1 }), readingEntry({ ms: 2 })]);
		expect(await allKeys(store)).toEqual(['journal/ses-1/00000000', 'journal/ses-1/00000001']);
		expect(await valueOf(store, 'journal/ses-1/00000000')).toEqual([startEntry]);
	});

	it('keeps the order of the calls when many are made at once', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		const given = Array.from({ length: 50 }, (_, i) => readingEntry({ ms: i * 1000, bpm: 100 + i }));
		await Promise.all(given.map((entry) => sink.append([entry])));
		expect(await journalled(store)).toEqual(given);
	});

	it('writes what it was given at the call, not what became of the list since', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		const first = sink.append([startEntry]);
		const list = [readingEntry({ ms: 1 })];
		const second = sink.append(list);
		list.length = 0;
		await Promise.all([first, second]);
		expect(await journalled(store)).toEqual([startEntry, readingEntry({ ms: 1 })]);
	});

	it('does the same two requests for the first packet and after an hour', async () => {
		const { store, requests } = watchedStore(freshStore());
		await plant(store, 'journal/ses-1/00003599', [readingEntry()]);
		const sink = openJournal(store, 'ses-1');
		await sink.append([readingEntry()]);
		requests.length = 0;
		for (let i = 0; i < 20; i++) await sink.append([readingEntry({ ms: i })]);
		expect(requests.map(({ method }) => method)).toEqual(
			Array.from({ length: 20 }, () => ['openKeyCursor', 'add']).flat()
		);
	});

	it('says so where the browser has cleared what came before, writes nothing of it, and then begins anew', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry]);
		await sink.append([readingEntry({ ms: 0 })]);
		await store('readwrite', (objects) => promisifyRequest(objects.clear()));
		await expect(sink.append([readingEntry({ ms: 1000 })])).rejects.toBeInstanceOf(JournalGone);
		expect(await allKeys(store)).toEqual([]);
		const whole = [startEntry, readingEntry({ ms: 0 }), readingEntry({ ms: 1000 })];
		await sink.append(whole);
		await sink.append([readingEntry({ ms: 2000 })]);
		expect(await journalled(store)).toEqual([...whole, readingEntry({ ms: 2000 })]);
	});

	it('goes on after its last chunk when it is opened again', async () => {
		const store = freshStore();
		for (const ms of [0, 1000]) await openJournal(store, 'ses-1').append([readingEntry({ ms })]);
		const again = openJournal(store, 'ses-1');
		await again.append([readingEntry({ ms: 2000 })]);
		await again.append([readingEntry({ ms: 3000 })]);
		expect((await allKeys(store)).at(-1)).toBe('journal/ses-1/00000003');
		expect((await journalled(store)).map((entry) => entry.kind === 'reading' && entry.ms)).toEqual([
			0, 1000, 2000, 3000
		]);
	});

	it('never writes over what another tab has written meanwhile', async () => {
		const store = freshStore();
		const [mine, theirs] = [openJournal(store, 'ses-1'), openJournal(store, 'ses-1')];
		await mine.append([readingEntry({ ms: 0 })]);
		await theirs.append([readingEntry({ ms: 10 })]);
		await expect(mine.append([readingEntry({ ms: 1000 })])).rejects.toMatchObject({ code: 'failed' });
		await mine.append([readingEntry({ ms: 1000 })]);
		expect(await journalled(store)).toEqual([0, 10, 1000].map((ms) => readingEntry({ ms })));
	});

	it('does not mix with one whose name begins alike', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append([readingEntry({ ms: 1 })]);
		await openJournal(store, 'ses-10').append([readingEntry({ ms: 10 })]);
		await openJournal(store, 'ses-1').discard();
		expect(await allKeys(store)).toEqual(['journal/ses-10/00000000']);
	});

	it('rejects what a full disk refuses, writes nothing of it, and takes it when there is room', async () => {
		const store = freshStore();
		const full = abortingStore(store, 'QuotaExceededError');
		let isFull = false;
		const sink = openJournal((mode, work) => (isFull ? full : store)(mode, work), 'ses-1');
		await sink.append([startEntry]);
		isFull = true;
		const refused = sink.append([readingEntry({ ms: 1 })]);
		await expect(refused).rejects.toMatchObject({ name: 'StoreError', code: 'full' });
		expect(await journalled(store)).toEqual([startEntry]);
		isFull = false;
		await sink.append([readingEntry({ ms: 1 }), readingEntry({ ms: 2 })]);
		expect(await journalled(store)).toEqual([startEntry, readingEntry({ ms: 1 }), readingEntry({ ms: 2 })]);
	});

	it('leaves nothing behind when it is discarded', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		void sink.append([startEntry]);
		void sink.append([readingEntry()]);
		await sink.discard();
		expect(await allKeys(store)).toEqual([]);
		await expect(sink.append([readingEntry()])).rejects.toMatchObject({ code: 'failed' });
		expect(await allKeys(store)).toEqual([]);
	});
});

describe('finishing', () => {
	it('puts the records in and takes the journal out, after all that was still to be written', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		const appended = sink.append([startEntry]);
		await sink.finish([makeRecord({ id: 'red' }), makeRecord({ id: 'blue' })]);
		await appended;
		expect(await allKeys(store)).toEqual(['body/blue', 'body/red', 'head/blue', 'head/red']);
		expect(await readSession(store, 'red')).toMatchObject({
			status: 'found',
			record: makeRecord({ id: 'red' })
		});
		await expect(sink.append([readingEntry()])).rejects.toMatchObject({ code: 'failed' });
	});

	it('leaves the whole journal and no record where the browser dies in the middle', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append([startEntry, readingEntry()]);
		const dying = openJournal(abortingStore(store, null), 'ses-1');
		await expect(dying.finish([makeRecord()])).rejects.toMatchObject({ code: 'failed' });
		expect(await allKeys(store)).toEqual(['journal/ses-1/00000000']);
		expect(await journalled(store)).toEqual([startEntry, readingEntry()]);
	});

	it('stores neither corner where one cannot be stored, and can be tried again', async () => {
		const store = freshStore();
		await plant(store, 'body/blue', 'in the way');
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry]);
		const records = [makeRecord({ id: 'red' }), makeRecord({ id: 'blue' })];
		await expect(sink.finish(records)).rejects.toMatchObject({ code: 'failed' });
		expect(await allKeys(store)).toEqual(['body/blue', 'journal/ses-1/00000000']);
		await sink.append([readingEntry({ ms: 5 })]);
		await sink.finish([makeRecord({ id: 'red' })]);
		expect(await allKeys(store)).toEqual(['body/blue', 'body/red', 'head/red']);
	});

	it('refuses a record that could not be read back, with the sentence, and keeps the journal', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry]);
		await expect(sink.finish([makeRecord({ endedMs: NaN })])).rejects.toThrow(/not stored.*endedMs/);
		await expect(sink.finish([])).rejects.toThrow('no record to keep');
		expect(await allKeys(store)).toEqual(['journal/ses-1/00000000']);
	});

	it('gives from a journal found again the record that the live session would have given', async () => {
		const store = freshStore();
		const live = new RecordBuilder();
		const sink = openJournal(store, 'ses-1');
		const happened: JournalEntry[] = [
			startEntry,
			readingEntry({ ms: -350.4, energyKJ: 2 }),
			readingEntry({ ms: 649.6, bpm: 301, contact: 'no contact', rrMs: [] }),
			{ kind: 'amendment', amendment: { kind: 'pause', atMs: 800 } },
			{ kind: 'event', corner: 0, event: { kind: 'signal lost', ms: 900 } }
		];
		for (const entry of happened) {
			live.push(entry);
			await sink.append([entry]);
		}
		const [found] = await unfinishedJournals(store);
		const rebuilt = new RecordBuilder();
		for (const entry of found!.entries) rebuilt.push(entry);
		expect(rebuilt.build(2000)).toStrictEqual(live.build(2000));
	});
});

describe('a damaged journal', () => {
	it('gives what can be read and says what cannot', async () => {
		const store = freshStore();
		await plant(store, 'journal/ses-1/00000000', [startEntry, { ...readingEntry(), bpm: 'fast' }]);
		await plant(store, 'journal/ses-1/00000001', 'torn');
		await plant(store, 'journal/ses-1/00000002', [readingEntry({ ms: 2000 })]);
		const [journal] = await unfinishedJournals(store);
		expect(journal!.start).toEqual(makeStart());
		expect(journal!.entries).toEqual([startEntry, readingEntry({ ms: 2000 })]);
		expect(journal!.unreadable).toMatch(/^2 things are wrong\. The first: .*bpm/);
		expect(await allKeys(store)).toHaveLength(3);
	});

	it('says so where its start is missing, and keeps the others unharmed', async () => {
		const store = freshStore();
		await plant(store, 'journal/ses-1/00000000', [{ kind: 'start', start: null }]);
		await plant(store, 'journal/ses-2/00000000', [startEntry]);
		const [damaged, sound] = await unfinishedJournals(store);
		expect(damaged).not.toHaveProperty('start');
		expect(damaged!.unreadable).toContain('start is missing');
		expect(sound).not.toHaveProperty('unreadable');
	});
});
