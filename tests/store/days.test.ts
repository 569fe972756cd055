import { describe, expect, it } from 'vitest';
import { withEntry, type TrainingDay } from '$lib/record/day';
import { knownDay } from '$lib/review/training';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import type { UseStore } from '$lib/store/database';
import { readDays, saveDay } from '$lib/store/days';
import { mergeAthletes } from '$lib/store/folder/merges';
import { setConsent } from '$lib/store/folder/state';
import { withdraw } from '$lib/store/folder/withdraw';
import { filesIn } from '$lib/store/folder/door';
import { deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { onKept } from '$lib/store/kept-changes';
import { makeDay, makeEntry, restDay } from '../review/training-days';
import { FakeFolder } from './fake-folder';
import { allKeys, freshStore, plant } from './fresh-store';
import { bo, dayMs, makeLaptop, nerea, noonMs } from './laptop';

const tuesday = '2026-03-03';
async function dayOn(store: UseStore, athleteId = 'ath-1', date = tuesday): Promise<TrainingDay | undefined> {
	return (await readDays(store, [athleteId], date, date)).get(athleteId)?.days.get(date);
}
async function restoreAll(store: UseStore, text: string) {
	const plan = await planRestore(store, text);
	if (plan.status !== 'ready') throw new Error(plan.problem);
	expect(await restore(store, plan)).toEqual({ status: 'restored' });
	return plan;
}

describe('the days of athletes', () => {
	it('are read from one date to another, each by its athlete', async () => {
		const store = freshStore();
		for (const date of ['2026-02-28', '2026-03-01', '2026-03-02'])
			await saveDay(store, 'ath-1', date, { changed: restDay });
		await saveDay(store, 'ath-2', '2026-03-01', { changed: makeDay(makeEntry()) });
		const found = await readDays(store, ['ath-1', 'ath-2', 'ath-3'], '2026-03-01', '2026-03-31');
		expect([...found].map(([id, { days }]) => [id, [...days.keys()]])).toEqual([
			['ath-1', ['2026-03-01', '2026-03-02']],
			['ath-2', ['2026-03-01']],
			['ath-3', []]
		]);
	});
	it('keep what another window entered meanwhile', async () => {
		const store = freshStore();
		await saveDay(store, 'ath-1', tuesday, { changed: makeDay(makeEntry({ id: 'a' })) });
		const shown = (await dayOn(store))!;
		await saveDay(store, 'ath-1', tuesday, {
			before: shown,
			changed: withEntry(shown, makeEntry({ id: 'b' }))
		});
		const rated = withEntry(shown, makeEntry({ id: 'a', effort: 9 }));
		const kept = await saveDay(store, 'ath-1', tuesday, { before: shown, changed: rated });
		expect(kept.entries.map(({ id, effort }) => [id, effort])).toEqual([
			['a', 9],
			['b', 6]
		]);
		expect(await dayOn(store)).toEqual(kept);
	});
	it('refuse what cannot be true with a sentence, and change nothing', async () => {
		const store = freshStore();
		const wrong = makeDay(makeEntry({ effort: 11 }));
		await expect(saveDay(store, 'ath-1', tuesday, { changed: wrong })).rejects.toThrow(
			/day was not stored.*effort/i
		);
		await expect(saveDay(store, 'ath-1', 'Tuesday', { changed: restDay })).rejects.toThrow(
			/day was not stored/
		);
		expect(await allKeys(store)).toEqual([]);
	});
	it('name a day that cannot be read, and never write over it', async () => {
		const store = freshStore();
		await plant(store, `day/ath-1/${tuesday}`, 'pads');
		const found = (await readDays(store, ['ath-1'], tuesday, tuesday)).get('ath-1')!;
		expect(found.unreadable[0]!.key).toBe(`day/ath-1/${tuesday}`);
		await expect(saveDay(store, 'ath-1', tuesday, { changed: restDay })).rejects.toThrow(/cannot be read/);
	});
	it('are the same read one by one as in a row, with what cannot be read of each named', async () => {
		const store = freshStore();
		const dates = ['2026-03-01', '2026-03-02', '2026-03-03', '2026-03-04'];
		const ids = ['ath-1', 'ath-2', 'ath-3'];
		for (const [i, id] of ids.entries())
			for (const date of dates.slice(i))
				await saveDay(store, id, date, { changed: makeDay(makeEntry({ id: `${id}-${i}`, effort: i })) });
		await plant(store, 'day/ath-2/2026-03-03', 'pads');
		const inRow = await readDays(store, ids, dates[0]!, dates.at(-1)!);
		const eachAlone = await Promise.all(dates.map((date) => readDays(store, ids, date, date)));
		for (const id of ids) {
			const { days, unreadable } = inRow.get(id)!;
			expect(eachAlone.flatMap((one) => [...one.get(id)!.days])).toEqual([...days]);
			expect(eachAlone.flatMap((one) => one.get(id)!.unreadable)).toEqual(unreadable);
		}
		expect(inRow.get('ath-2')!.unreadable.map(({ key }) => key)).toEqual(['day/ath-2/2026-03-03']);
		expect([...inRow.get('ath-2')!.days.keys()]).toEqual(['2026-03-02', '2026-03-04']);
	});
	it('tell whoever shows them', async () => {
		const store = freshStore();
		const told: string[] = [];
		onKept(store, (keys) => told.push(...keys));
		await saveDay(store, 'ath-1', tuesday, { changed: restDay });
		expect(told).toContain('day/ath-1');
	});
	it('go with an athlete who is deleted for good, and stay with one who is brought back', async () => {
		const store = freshStore();
		await saveAthlete(store, nerea);
		await saveDay(store, nerea.id, tuesday, { changed: restDay });
		await deleteAthlete(store, nerea.id, noonMs);
		await restoreAthlete(store, nerea.id);
		expect(await dayOn(store)).toEqual(restDay);
		await deleteAthlete(store, nerea.id, noonMs);
		await purgeAthletes(store, dayMs, noonMs + 2 * dayMs);
		// That the card is gone stays known, so that no shared folder brings it back.
		expect((await allKeys(store)).filter((key) => key.includes(nerea.id))).toEqual([
			`shared/athlete/${nerea.id}`
		]);
	});
	it('are joined where two cards become one', async () => {
		const store = freshStore();
		for (const athlete of [nerea, bo]) await saveAthlete(store, athlete);
		await saveDay(store, nerea.id, tuesday, { changed: makeDay(makeEntry({ id: 'a' })) });
		await saveDay(store, bo.id, tuesday, { changed: makeDay(makeEntry({ id: 'b' })) });
		await saveDay(store, bo.id, '2026-03-04', { changed: restDay });
		await mergeAthletes(store, nerea, bo.id);
		expect((await dayOn(store))?.entries.map(({ id }) => id)).toEqual(['a', 'b']);
		expect(await dayOn(store, nerea.id, '2026-03-04')).toEqual(restDay);
		expect(await dayOn(store, bo.id)).toBeUndefined();
	});
});

describe('days in a backup', () => {
	it('are all brought back, and join those that are there', async () => {
		const one = freshStore();
		await saveAthlete(one, nerea);
		await saveDay(one, nerea.id, tuesday, { changed: makeDay(makeEntry({ id: 'a' })) });
		await saveDay(one, nerea.id, '2026-03-04', { changed: restDay });
		const { text } = await wholeBackup(one, new Date(noonMs));
		const other = freshStore();
		await saveDay(other, nerea.id, tuesday, { changed: makeDay(makeEntry({ id: 'b' })) });
		const plan = await restoreAll(other, text);
		const group = plan.groups.find(({ kind }) => kind === 'Training days');
		expect(group?.changed.map(({ name }) => name)).toEqual(['Nerea: 2026-03-03']);
		expect(group?.added.map(({ name }) => name)).toEqual(['Nerea: 2026-03-04']);
		expect((await dayOn(other))?.entries.map(({ id }) => id)).toEqual(['a', 'b']);
		expect(await dayOn(other, nerea.id, '2026-03-04')).toEqual(restDay);
		expect(await planRestore(other, text)).toMatchObject({ isIdle: true });
	});
	it('never take the place of what was entered later, nor of a day that cannot be read here', async () => {
		const store = freshStore();
		await saveAthlete(store, nerea);
		await saveDay(store, nerea.id, tuesday, { changed: makeDay(makeEntry({ effort: 5 })) });
		await saveDay(store, nerea.id, '2026-03-04', { changed: restDay });
		const { text } = await wholeBackup(store, new Date(noonMs));
		const before = (await dayOn(store))!;
		await saveDay(store, nerea.id, tuesday, { before, changed: makeDay(makeEntry({ effort: 8 })) });
		await plant(store, 'day/ath-1/2026-03-04', 'rest');
		await restoreAll(store, text);
		expect((await dayOn(store))?.entries.map(({ effort }) => effort)).toEqual([8]);
		expect(
			(await readDays(store, ['ath-1'], '2026-03-04', '2026-03-04')).get('ath-1')?.unreadable
		).toHaveLength(1);
	});
});

describe('days in a shared folder', () => {
	const evening = (id: string, effort: number) => ({ changed: makeDay(makeEntry({ id, effort })) });

	it('bring the same evening of two laptops together, one of them offline meanwhile: nothing is lost', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		const other = await makeLaptop(folder, nerea);
		await one.visit();
		await other.visit();
		await saveDay(one.store, nerea.id, tuesday, evening('a', 6), noonMs);
		await saveDay(other.store, nerea.id, tuesday, evening('b', 7), noonMs + 1);
		expect((await one.visit()).wentOut.days).toBe(1);
		expect((await other.visit()).cameIn.days).toBe(1);
		await one.visit();
		const [here, there] = [await dayOn(one.store), await dayOn(other.store)];
		expect(here).toEqual(there);
		expect(here?.entries.map(({ id }) => id)).toEqual(['a', 'b']);
		// What may be one training is asked, and until then the larger load counts: 60 x 7.
		expect(knownDay(here, [])).toMatchObject({ load: 420 });
		expect(knownDay(here, []).trainings[1]?.maybeSameAs).toBe('a');
	});
	it('are written once as long as nothing changes, and as one file an athlete, month and machine', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		const files = () => folder.names().filter((name) => name.endsWith('.days.json'));
		await saveDay(one.store, nerea.id, tuesday, evening('a', 6), noonMs);
		await one.visit();
		const [first] = files();
		expect(first).toMatch(/^ath-1\.20260303T12000\d{4}Z\.[a-z\d]+\.2026-03\.days\.json$/);
		expect((await one.visit()).wentOut.days).toBe(0);
		await saveDay(one.store, nerea.id, '2026-03-04', { changed: restDay }, noonMs + dayMs);
		await one.visit();
		expect(files()).toHaveLength(1);
		expect(files()).not.toContain(first);
	});
	it('are those of athletes who agreed, never the example’s, and go where somebody withdraws', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea, { id: 'ex', name: 'Ex', example: true });
		await saveAthlete(one.store, bo);
		for (const id of [nerea.id, bo.id, 'ex']) await saveDay(one.store, id, tuesday, evening('a', 6), noonMs);
		await one.visit();
		const owners = () =>
			folder
				.names()
				.filter((name) => name.endsWith('.days.json'))
				.map((name) => name.split('.')[0]);
		expect(owners()).toEqual(['ath-1']);
		await setConsent(one.store, bo.id, true);
		await one.visit();
		expect(owners()).toEqual(['ath-1', 'ath-2']);
		await withdraw(one.store, filesIn(folder.handle), nerea.id, noonMs);
		expect(owners()).toEqual(['ath-2']);
	});
	it('follow a card that was merged elsewhere', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea, bo);
		const other = await makeLaptop(folder, nerea, bo);
		await one.visit();
		await other.visit();
		await mergeAthletes(one.store, nerea, bo.id, noonMs);
		await saveDay(other.store, bo.id, tuesday, evening('b', 7), noonMs);
		await one.visit();
		await other.visit();
		expect((await dayOn(other.store))?.entries.map(({ id }) => id)).toEqual(['b']);
		await one.visit();
		expect((await dayOn(one.store))?.entries.map(({ id }) => id)).toEqual(['b']);
	});
	it('are refused with a sentence where a file is wrong, and everything else is taken', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await saveDay(one.store, nerea.id, tuesday, evening('a', 6), noonMs);
		await one.visit();
		const [name, { text }] = [...folder.files].find(([file]) => file.endsWith('.days.json'))!;
		const other = await makeLaptop(folder, nerea);
		await plant(other.store, `day/ath-1/${tuesday}`, 'pads');
		folder.put(name.replace('2026-03.days', '2026-04.days'), text);
		const report = await other.visit();
		expect(report.problems.map(({ problem }) => problem)).toEqual([
			expect.stringMatching(/something else than its name/),
			expect.stringMatching(/day that lies here cannot be read/)
		]);
		expect(report.cameIn.cards).toBe(0);
	});
});
