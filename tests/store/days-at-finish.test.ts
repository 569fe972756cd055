import { describe, expect, it } from 'vitest';
import type { DayEntry, TrainingDay } from '$lib/record/day';
import type { GroupEntry, JournalEntry } from '$lib/record/journal';
import { keepUnfinished } from '$lib/review/unfinished';
import type { UseStore } from '$lib/store/database';
import { readDays, saveDay } from '$lib/store/days';
import { openJournal, unfinishedJournal } from '$lib/store/journal';
import { makeDay, makeEntry, restDay } from '../review/training-days';
import { makeHead, makeRecord, makeStart, readingEntry, startEntry } from './builders';
import { abortingStore, watchedStore } from './faulty-store';
import { allKeys, freshStore, plant } from './fresh-store';

const { startedAt } = makeHead();
/** YYYY-MM-DD where the tests run. */
const date = new Date(startedAt).toLocaleDateString('sv');
const entryOf = (name: string, overrides: Partial<DayEntry> = {}): GroupEntry => ({
	athleteId: `ath-${name}`,
	startedAt,
	entry: {
		id: `rec-${name}`,
		activity: 'pads',
		minutes: 25,
		madeAt: startedAt,
		groupId: 'ses-1',
		...overrides
	}
});
async function dayOf(store: UseStore, name: string): Promise<TrainingDay | undefined> {
	const athleteId = `ath-${name}`;
	return (await readDays(store, [athleteId], date, date)).get(athleteId)?.days.get(date);
}
const keptKeys = ['body/rec-1', `day/ath-Adem/${date}`, `day/ath-Bao/${date}`, 'head/rec-1'];
const journalKey = 'journal/ses-1/00000000';
const both = [entryOf('Adem'), entryOf('Bao')];
/** What is kept, but for what the shared folder has yet to be told and the mark of this laptop. */
const kept = async (store: UseStore) =>
	(await allKeys(store)).filter((key) => /^(body|day|head|journal)\//.test(key));

async function begun(store: UseStore) {
	const sink = openJournal(store, 'ses-1');
	await sink.append([startEntry]);
	return sink;
}

describe('a session that ends with boxers who never wore a strap', () => {
	it('puts its records and their days in and takes the journal out, in one transaction', async () => {
		const store = freshStore();
		let writes = 0;
		const sink = await begun((mode, work) => {
			if (mode === 'readwrite') writes++;
			return store(mode, work);
		});
		writes = 0;
		await sink.finish([makeRecord()], both);
		expect(writes).toBe(1);
		expect(await kept(store)).toEqual(keptKeys);
		expect(await dayOf(store, 'Adem')).toEqual(makeDay(entryOf('Adem').entry));
		expect(await dayOf(store, 'Bao')).toEqual(makeDay(entryOf('Bao').entry));
		expect(await allKeys(store), 'the shared folder is told').toEqual(
			expect.arrayContaining(['shared/days/ath-Adem/2026-03', 'shared/days/ath-Bao/2026-03'])
		);
	});

	it('puts nothing in where a record is refused', async () => {
		const store = freshStore();
		await plant(store, 'body/rec-1', 'in the way');
		const sink = await begun(store);
		await expect(sink.finish([makeRecord()], both)).rejects.toMatchObject({ code: 'failed' });
		expect(await kept(store)).toEqual(['body/rec-1', journalKey]);
	});

	it('puts nothing in where a day that lies there cannot be read, and leaves that day alone', async () => {
		const store = freshStore();
		await plant(store, `day/ath-Bao/${date}`, 'pads');
		const sink = await begun(store);
		await expect(sink.finish([makeRecord()], both)).rejects.toThrow(/day that lies here cannot be read/);
		expect(await kept(store)).toEqual([`day/ath-Bao/${date}`, journalKey]);
	});

	it('puts nothing in where an entry says what cannot be', async () => {
		const store = freshStore();
		const sink = await begun(store);
		const wrong = [entryOf('Adem'), entryOf('Bao', { minutes: 0 })];
		await expect(sink.finish([makeRecord()], wrong)).rejects.toThrow(/day was not stored/);
		expect(await kept(store)).toEqual([journalKey]);
	});

	it('puts nothing in where the disk is full or the browser dies, and a second try enters nothing twice', async () => {
		for (const error of ['QuotaExceededError', null] as const) {
			const store = freshStore();
			const faulty = abortingStore(store, error);
			let isFaulty = false;
			const sink = await begun((mode, work) => (isFaulty ? faulty : store)(mode, work));
			isFaulty = true;
			await expect(sink.finish([makeRecord()], both)).rejects.toMatchObject({ name: 'StoreError' });
			expect(await kept(store)).toEqual([journalKey]);
			isFaulty = false;
			await sink.finish([makeRecord()], both);
			expect(await kept(store)).toEqual(keptKeys);
			await expect(sink.finish([makeRecord()], both)).rejects.toMatchObject({ code: 'failed' });
			expect((await dayOf(store, 'Adem'))!.entries).toHaveLength(1);
		}
	});

	it('joins what was entered of the day already, as another training', async () => {
		const store = freshStore();
		const run = makeEntry({ id: 'run', activity: 'run', madeAt: '2026-03-02T07:00:00.000Z' });
		await saveDay(store, 'ath-Adem', date, { changed: { ...makeDay(run), allTraining: true } });
		await saveDay(store, 'ath-Bao', date, { changed: restDay });
		const sink = await begun(store);
		await sink.finish([makeRecord()], both);
		expect(await dayOf(store, 'Adem')).toEqual({ ...makeDay(run, entryOf('Adem').entry), allTraining: true });
		expect(await dayOf(store, 'Bao'), 'a day of rest it was not').toEqual(makeDay(entryOf('Bao').entry));
	});

	it('is as it was before where everybody wore one', async () => {
		const { store, requests } = watchedStore(freshStore());
		const sink = await begun(store);
		await sink.finish([makeRecord()], []);
		expect(await kept(store)).toEqual(['body/rec-1', 'head/rec-1']);
		expect(requests.filter(({ key }) => /day/.test(key))).toEqual([]);
	});
});

describe('a session that was left unfinished', () => {
	const corners = [
		...makeStart().corners,
		...['Adem', 'Bao', 'Tomas'].map((name) => ({
			recordId: `rec-${name}`,
			athlete: { athleteId: `ath-${name}`, name },
			practice: false
		}))
	];
	const journal: JournalEntry[] = [
		{ kind: 'start', start: makeStart({ corners }) },
		readingEntry({ ms: 0 }),
		{ kind: 'hand over', corner: 3, from: 0, ms: 700_000, strapName: 'Strap 14C2', practice: false },
		readingEntry({ ms: 1_500_000, corner: 3 })
	];
	const all = [...keptKeys.slice(0, 1), 'body/rec-Tomas', ...keptKeys.slice(1), 'head/rec-Tomas'];

	it('is kept with the days of whoever the strap never came to', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append(journal);
		await keepUnfinished([], openJournal(store, 'ses-1'));
		expect(await kept(store)).toEqual(all);
		expect(await dayOf(store, 'Adem')).toEqual(makeDay(entryOf('Adem').entry));
		expect(await dayOf(store, 'Tomas')).toBeUndefined();
	});

	it('is kept once, by whichever tab comes first', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append(journal);
		const listed = (await unfinishedJournal(store, 'ses-1'))!.entries;
		await keepUnfinished(listed, openJournal(store, 'ses-1'));
		const rated = { ...entryOf('Adem').entry, effort: 8 };
		await saveDay(store, 'ath-Adem', date, {
			before: (await dayOf(store, 'Adem'))!,
			changed: makeDay(rated)
		});
		await expect(keepUnfinished(listed, openJournal(store, 'ses-1'))).rejects.toMatchObject({
			code: 'failed'
		});
		expect(await dayOf(store, 'Adem')).toEqual(makeDay(rated));
		expect(await kept(store)).toEqual(all);
	});

	it('stays as it is where a day cannot be entered, and is kept once that day is well again', async () => {
		const store = freshStore();
		await openJournal(store, 'ses-1').append(journal);
		await plant(store, `day/ath-Bao/${date}`, 'pads');
		await expect(keepUnfinished([], openJournal(store, 'ses-1'))).rejects.toThrow(/cannot be read/);
		expect(await kept(store)).toEqual([`day/ath-Bao/${date}`, journalKey]);
		await plant(store, `day/ath-Bao/${date}`, {});
		await keepUnfinished([], openJournal(store, 'ses-1'));
		expect(await kept(store)).toEqual(all);
	});
});
