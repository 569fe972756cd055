import { describe, expect, it } from 'vitest';
import { makeDay, makeEntry } from '../review/training-days';
import { padsPlan } from './builders';
import { FakeFolder } from './fake-folder';
import { allKeys } from './fresh-store';
import { dayMs, iso, makeLaptop, nerea, noonMs } from './laptop';
import { saveAthlete } from '$lib/store/athletes';
import type { UseStore } from '$lib/store/database';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { filesIn } from '$lib/store/folder/door';
import { visitFolder } from '$lib/store/folder/sync';
import { savePlan } from '$lib/store/plans';
import { deleteSession } from '$lib/store/sessions';

/** The store as it is, whose disk is full where something is put under such a key. */
function fullAt(store: UseStore, prefix: string): UseStore {
	return (mode, work) =>
		store(mode, (objects) => {
			for (const verb of ['put', 'add'] as const) {
				const done = objects[verb].bind(objects);
				objects[verb] = (value, key) => {
					if (String(key).startsWith(prefix)) throw new DOMException('', 'QuotaExceededError');
					return done(value, key);
				};
			}
			return work(objects);
		});
}

const laterMs = noonMs + dayMs;

/** Two laptops that held the same, and one of them has said something of every kind since. */
async function oneWithNews() {
	const folder = new FakeFolder();
	const [here, there] = [await makeLaptop(folder, nerea), await makeLaptop(folder, nerea)];
	for (const id of ['a', 'b']) await there.box(id);
	await there.visit();
	await here.visit();
	await there.box('c');
	await addEdit(there.store, 'a', { at: iso(laterMs), note: 'From there' });
	await deleteSession(there.store, 'b', laterMs);
	await saveAthlete(there.store, { ...nerea, thresholdBpm: 171 }, undefined, laterMs);
	await saveDay(there.store, 'ath-1', '2026-03-02', { changed: makeDay(makeEntry()) }, laterMs);
	await savePlan(there.store, { id: 'plan-1', plan: padsPlan }, laterMs);
	await there.visit(laterMs);
	return { folder, here, there };
}

describe('what another laptop said', () => {
	it.each(['head/', 'edit/', 'tombstone/', 'athlete/', 'day/', 'plan/'])(
		'is taken in by the next visit where the disk was full at %s',
		async (prefix) => {
			const { folder, here, there } = await oneWithNews();
			const files = filesIn(folder.handle);
			const failing = visitFolder(fullAt(here.store, prefix), files, laterMs);
			await expect(failing).rejects.toMatchObject({ code: 'full' });
			const report = await here.visit(laterMs);
			expect(report.problems).toEqual([]);
			expect(await here.state()).toEqual(await there.state());
			const shared = (keys: string[]) => keys.filter((key) => /^(tombstone|day)\//.test(key));
			expect(shared(await allKeys(here.store))).toEqual(shared(await allKeys(there.store)));
		}
	);

	it('of one plan in two files is taken in whole where the visit was called off between them', async () => {
		const folder = new FakeFolder();
		const [here, one, other] = [
			await makeLaptop(folder, nerea),
			await makeLaptop(folder, nerea),
			await makeLaptop(folder, nerea)
		];
		for (const [laptop, roundS] of [[one, 60] as const, [other, 90] as const]) {
			const own = new FakeFolder();
			await savePlan(laptop.store, { id: 'plan-1', plan: { ...padsPlan, roundS } }, noonMs + roundS);
			await visitFolder(laptop.store, filesIn(own.handle), noonMs);
			folder.copyFrom(own);
		}
		const isSecond = () => folder.opened.filter((name) => name.endsWith('.plan.json')).length > 0;
		const stopped = visitFolder(here.store, filesIn(folder.handle), noonMs, () => !isSecond());
		await expect(stopped).rejects.toMatchObject({ name: 'Interrupted' });
		await here.visit();
		const newcomer = await makeLaptop(new FakeFolder());
		newcomer.folder.copyFrom(folder);
		await newcomer.visit();
		const plansOf = async (laptop: typeof here) => ((await laptop.state()) as { plans: unknown }).plans;
		expect(await plansOf(here)).toEqual(await plansOf(newcomer));
		expect(await plansOf(here)).toHaveLength(2);
	});
});
