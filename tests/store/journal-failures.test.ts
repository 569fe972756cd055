import fc from '../by-chance';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, it } from 'vitest';
import { makeRecord, makeStart, readingEntry, startEntry } from './builders';
import { abortingStore } from './faulty-store';
import { allKeys, freshStore, plant } from './fresh-store';
import { unpackReadings } from '$lib/record/columns';
import { JournalGone, type JournalEntry, type Sink } from '$lib/record/journal';
import { JournalWriter } from '$lib/session/journal-writer';
import { keepUnfinished } from '$lib/review/unfinished';
import type { UseStore } from '$lib/store/database';
import { openJournal, unfinishedJournal, unfinishedJournals } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';
import { manualClock } from '$lib/time/manual-clock';

const clearAll = (store: UseStore) =>
	store('readwrite', (objects) => promisifyRequest(objects.clear()).then(() => undefined));
/** A store whose disk can be filled and freed. */
function fillable() {
	const real = freshStore();
	const full = abortingStore(real, 'QuotaExceededError');
	const disk = { real, isFull: false };
	const store: UseStore = (mode, work) => (disk.isFull ? full : real)(mode, work);
	return Object.assign(disk, { store });
}

/** A sink, and how to wait until it has answered all that it was asked, however long that takes. */
function answering(sink: Sink) {
	const asked = new Set<Promise<unknown>>();
	const append: Sink['append'] = (entries) => {
		const answer = sink.append(entries);
		asked.add(answer);
		const drop = () => void asked.delete(answer);
		answer.then(drop, drop);
		return answer;
	};
	const settled = async () => {
		// Who was answered goes on, and may ask again, before a new task begins.
		do {
			await Promise.allSettled(asked);
			await new Promise((resolve) => setTimeout(resolve));
		} while (asked.size > 0);
	};
	return { sink: { append }, settled };
}

describe('a journal whose writes fail and whose data is cleared, in any order', () => {
	it('lies there whole, and nothing in it twice, once a write has gone through', async () => {
		const steps = fc.array(fc.constantFrom('write', 'fill', 'free', 'clear'), { maxLength: 12 });
		await fc.assert(
			fc.asyncProperty(steps, fc.boolean(), async (fates, isFound) => {
				const disk = fillable();
				const clock = manualClock();
				const all: JournalEntry[] = [startEntry];
				if (isFound) await openJournal(disk.real, 'ses-1').append(all);
				const { sink, settled } = answering(openJournal(disk.store, 'ses-1', isFound));
				const writer = new JournalWriter({
					sink,
					clock,
					everything: () => [...all],
					onProblem: () => undefined
				});
				const push = async (entry: JournalEntry) => {
					writer.push(entry);
					await settled();
					clock.advanceTo(clock.nowMs() + 31_000);
					await settled();
				};
				if (!isFound) await push(startEntry);
				for (const fate of [...fates, 'free', 'write', 'write']) {
					if (fate === 'clear') await clearAll(disk.real);
					else if (fate !== 'write') disk.isFull = fate === 'fill';
					const entry = readingEntry({ ms: all.length * 1000 });
					all.push(entry);
					await push(entry);
				}
				expect(writer.problem).toBeUndefined();
				const journal = await unfinishedJournal(disk.real, 'ses-1');
				expect(journal).toStrictEqual({ sessionId: 'ses-1', start: makeStart(), entries: all });
			}),
			{ numRuns: 25 }
		);
	}, 60_000);

	it('has gone where a write had failed just before it was cleared', async () => {
		const disk = fillable();
		const sink = openJournal(disk.store, 'ses-1');
		await sink.append([startEntry]);
		disk.isFull = true;
		await expect(sink.append([readingEntry()])).rejects.toMatchObject({ code: 'full' });
		await clearAll(disk.real);
		disk.isFull = false;
		await expect(sink.append([readingEntry()])).rejects.toBeInstanceOf(JournalGone);
		expect(await allKeys(disk.real)).toEqual([]);
	});

	it('has gone where it was found, and cleared before anything was added', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append([startEntry]);
		const again = openJournal(store, 'ses-1', true);
		await clearAll(store);
		await expect(again.append([readingEntry()])).rejects.toBeInstanceOf(JournalGone);
	});

	it('is written anew in the place of what was left of it', async () => {
		const store = freshStore();
		const sink = openJournal(store, 'ses-1');
		await sink.append([startEntry]);
		await sink.append([readingEntry({ ms: 0 })]);
		await store('readwrite', (objects) =>
			promisifyRequest(objects.delete('journal/ses-1/00000001')).then(() => undefined)
		);
		await expect(sink.append([readingEntry({ ms: 1000 })])).rejects.toBeInstanceOf(JournalGone);
		const whole = [startEntry, readingEntry({ ms: 0 }), readingEntry({ ms: 1000 })];
		await sink.append(whole);
		expect((await unfinishedJournal(store, 'ses-1'))?.entries).toEqual(whole);
	});
});

describe('a session that two tabs have in hand, where no lock keeps them apart', () => {
	it('is not ended by the one whose memory lacks what the other has added', async () => {
		const store = freshStore();
		const [mine, theirs] = [openJournal(store, 'ses-1'), openJournal(store, 'ses-1')];
		await mine.append([startEntry]);
		await theirs.append([readingEntry({ ms: 10 })]);
		await expect(mine.finish([makeRecord()])).rejects.toMatchObject({ code: 'elsewhere' });
		await expect(mine.append([readingEntry({ ms: 20 })])).rejects.toMatchObject({ code: 'failed' });
		await mine.append([readingEntry({ ms: 20 })]);
		await expect(mine.finish([makeRecord()])).rejects.toMatchObject({ code: 'elsewhere' });
		expect((await unfinishedJournals(store))[0]?.entries).toHaveLength(3);
	});

	it('is kept as it lies there, with what another tab has added since it was listed', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append([startEntry, readingEntry({ ms: 0 })]);
		const listed = await unfinishedJournal(store, 'ses-1');
		await openJournal(store, 'ses-1').append([readingEntry({ ms: 60_000 })]);
		expect(await keepUnfinished(listed!.entries, openJournal(store, 'ses-1'))).toBe('rec-1');
		const kept = await readSession(store, 'rec-1');
		expect(kept.status === 'found' && unpackReadings(kept.record.body).map(({ ms }) => ms)).toEqual([
			0, 60_000
		]);
		expect(await unfinishedJournal(store, 'ses-1')).toBeUndefined();
	});

	it('is kept from the list where the browser has cleared the store since', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append([startEntry, readingEntry({ ms: 0 })]);
		const listed = await unfinishedJournal(store, 'ses-1');
		await clearAll(store);
		await keepUnfinished(listed!.entries, openJournal(store, 'ses-1'));
		expect(await allKeys(store)).toEqual(['body/rec-1', 'head/rec-1']);
	});

	it('stays as it is where it cannot be kept', async () => {
		const store = freshStore();
		await plant(store, 'journal/ses-1/00000000', [readingEntry()]);
		await expect(keepUnfinished([], openJournal(store, 'ses-1'))).rejects.toThrow();
		expect(await allKeys(store)).toEqual(['journal/ses-1/00000000']);
	});
});
