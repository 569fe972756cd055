import { describe, expect, it } from 'vitest';
import type { TableEntry } from '$lib/review/register-csv';
import { Cancelled } from '$lib/store/breathe';
import type { UseStore } from '$lib/store/database';
import { readDays, saveDay } from '$lib/store/days';
import { openJournal } from '$lib/store/journal';
import { takeTable } from '$lib/store/take-table';
import { makeDay, makeEntry } from '../review/training-days';
import { makeRecord } from './builders';
import { freshStore } from './fresh-store';

const row = (date: string, training: TableEntry['training'], athleteId = 'ath-1'): TableEntry => ({
	line: 2,
	athleteId,
	name: 'Nerea',
	date,
	...(training && { training })
});
const pads = { activity: 'pads', minutes: 60, effort: 5 };
const daysIn = async (store: UseStore) =>
	(await readDays(store, ['ath-1'], '0000', '9999')).get('ath-1')!.days;

describe('a table that is taken in', () => {
	it('joins what stands there, and is new only once', async () => {
		const store = freshStore();
		await saveDay(store, 'ath-1', '2026-03-01', {
			changed: makeDay(makeEntry({ activity: 'bag', minutes: 30 }))
		});
		const rows = [row('2026-03-01', pads), row('2026-03-02', undefined)];
		expect(await takeTable(store, rows, () => undefined)).toBe(2);
		expect(await takeTable(store, rows, () => undefined)).toBe(0);
		const days = await daysIn(store);
		expect(
			days
				.get('2026-03-01')
				?.entries.map(({ activity }) => activity)
				.sort()
		).toEqual(['bag', 'pads']);
		expect(days.get('2026-03-02')).toEqual({ entries: [], rest: true });
	});
	it('gives no athlete a second training where a session with a strap tells the same', async () => {
		const store = freshStore();
		const { startedAt } = makeRecord().head;
		await openJournal(store, 'of-a').finish([makeRecord({ id: 'a', endedMs: 3_600_000 })]);
		const date = new Date(startedAt).toLocaleDateString('sv');
		expect(await takeTable(store, [row(date, pads)], () => undefined)).toBe(0);
		expect(await daysIn(store)).toEqual(new Map());
	});
	it('keeps what it had taken by then where it is called off', async () => {
		const store = freshStore();
		const rows = Array.from({ length: 250 }, (_, i) =>
			row(new Date(Date.UTC(2024, 0, 1 + i)).toISOString().slice(0, 10), pads)
		);
		const called = takeTable(store, rows, () => {
			throw new Cancelled();
		});
		await expect(called).rejects.toThrow(Cancelled);
		expect((await daysIn(store)).size).toBe(100);
		expect(await takeTable(store, rows, () => undefined)).toBe(150);
	});
});
