import { describe, expect, it } from 'vitest';
import { getAthlete, listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { setConsent } from '$lib/store/folder/state';
import { addEdit } from '$lib/store/edits';
import { readSession, saveSummary } from '$lib/store/sessions';
import { logFuel, readFuelLog } from '$lib/store/fuel';
import { mergeAthletes } from '$lib/store/folder/merges';
import { headPutRight } from '$lib/record/put-right';
import { summaryAsPutRight } from '$lib/review/reviewed';
import { FakeFolder } from './fake-folder';
import type { UseStore } from '$lib/store/database';
import { bo, iso, makeLaptop, nerea, noonMs } from './laptop';

const of = (athlete: { id: string; name: string }) => ({
	athlete: { athleteId: athlete.id, name: athlete.name }
});

async function found(store: UseStore, id: string) {
	const session = await readSession(store, id);
	if (session.status !== 'found') throw new Error(session.problem);
	return session;
}

describe('cards', () => {
	it('hold in the state that was changed last, wherever that was and whoever writes first', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder, nerea)];
		await one.visit();
		await other.visit();
		await saveAthlete(one.store, { ...nerea, restBpm: 50, changedAt: iso(noonMs + 1000) });
		await saveAthlete(other.store, { ...nerea, restBpm: 60, changedAt: iso(noonMs + 2000) });
		await other.visit(noonMs + 3000);
		// Written last, changed first.
		await one.visit(noonMs + 4000);
		await other.visit(noonMs + 5000);
		for (const { store } of [one, other])
			expect((await getAthlete(store, nerea.id)).value).toMatchObject({ restBpm: 60 });
	});

	it('of one person become one on every laptop, by corrections that leave the records as they were', async () => {
		const folder = new FakeFolder();
		const twin = { id: 'ath-3', name: 'N.' };
		const [one, other] = [await makeLaptop(folder, nerea, twin), await makeLaptop(folder, twin)];
		await one.box('a');
		await other.box('b', of(twin));
		await other.box('c', of(twin));
		await logFuel(one.store, 'weight', twin.id, '2026-03-01', 61);
		await logFuel(other.store, 'weight', twin.id, '2026-03-02', 62);
		await other.visit();
		await one.visit();
		await other.visit();
		const record = await readSession(one.store, 'b');
		expect(await mergeAthletes(one.store, nerea, twin.id, noonMs + 1)).toBe(2);
		// Recorded meanwhile, by a laptop that has not heard of it.
		await other.box('d', of(twin));
		await one.visit(noonMs + 2);
		await other.visit(noonMs + 3);
		// The other laptop was told to write for the card that went, not for the one that stays.
		await one.visit(noonMs + 4);
		expect(await one.ids()).toEqual(['a', 'b', 'c']);
		await setConsent(other.store, nerea.id, true);
		await other.visit(noonMs + 5);
		await one.visit(noonMs + 6);
		expect(await one.state()).toEqual(await other.state());
		expect((await listAthletes(other.store)).athletes.map(({ id }) => id)).toEqual([nerea.id]);
		for (const id of ['b', 'c', 'd'])
			expect(await readSession(other.store, id)).toMatchObject({
				edit: { athlete: { id: nerea.id, name: 'Nerea' } }
			});
		expect(await readSession(one.store, 'b')).toMatchObject({
			record: (record as { record: object }).record
		});
		expect((await readFuelLog(one.store, nerea.id)).weightKg).toEqual({ '2026-03-01': 61 });
		expect((await readFuelLog(other.store, nerea.id)).weightKg).toEqual({ '2026-03-02': 62 });
		expect((await readFuelLog(other.store, twin.id)).weightKg).toEqual({});
	});

	it('merged leave each session the numbers of its day, and its summary true', async () => {
		const day = { thresholdBpm: 171.5, ageYears: 27, weightKg: 61 };
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea, bo), await makeLaptop(folder, nerea, bo)];
		await one.box('a', { athlete: { athleteId: bo.id, name: 'Bo', ...day } });
		await addEdit(one.store, 'a', { at: iso(noonMs), told: { sex: 'female', weightKg: 99 } });
		const before = await found(one.store, 'a');
		const summary = summaryAsPutRight(before.record, before.edit);
		await saveSummary(one.store, 'a', summary, before.edit);
		await one.visit();
		await mergeAthletes(one.store, nerea, bo.id, noonMs + 1);
		// Comes to the other laptop as a word from the folder, after this was recorded there.
		await other.box('b', { athlete: { athleteId: bo.id, name: 'Bo', ...day } });
		await other.visit();
		await one.visit(noonMs + 2);
		await other.visit(noonMs + 3);
		const numbers = { ...day, athleteId: nerea.id, name: 'Nerea' };
		const merged = await found(one.store, 'a');
		expect(headPutRight(merged.record.head, merged.edit).athlete).toEqual({ ...numbers, sex: 'female' });
		expect(merged.summary).toEqual(summary);
		expect(summaryAsPutRight(merged.record, merged.edit)).toEqual(summary);
		const followed = await found(other.store, 'b');
		expect(headPutRight(followed.record.head, followed.edit).athlete).toEqual(numbers);
	});

	it('merged take over no numbers of a third, and those of the day where a session comes back', async () => {
		const { store, box } = await makeLaptop(new FakeFolder(), nerea, bo);
		await box('third', {
			athlete: { athleteId: 'ath-9', name: 'Kit', thresholdBpm: 190, weightKg: 90 }
		});
		await box('back', { athlete: { athleteId: nerea.id, name: 'Nerea', thresholdBpm: 171.5 } });
		const { record } = await found(store, 'back');
		const edit = { athlete: { id: bo.id, name: 'Bo' }, told: { thresholdBpm: 140 } };
		for (const id of ['third', 'back']) await addEdit(store, id, { at: iso(noonMs), ...edit });
		await saveSummary(store, 'back', summaryAsPutRight(record, edit), edit);
		await mergeAthletes(store, nerea, bo.id, noonMs + 1);
		const numbersOf = async (id: string) => {
			const session = await found(store, id);
			return headPutRight(session.record.head, session.edit).athlete.thresholdBpm;
		};
		expect(await numbersOf('third')).toBe(140);
		expect(await numbersOf('back')).toBe(171.5);
		expect(await found(store, 'back'), 'measured anew').not.toHaveProperty('summary');
	});

	it('merged crosswise on two laptops leave one, not none', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea, bo), await makeLaptop(folder, nerea, bo)];
		await one.box('a');
		await one.box('b', of(bo));
		await one.visit();
		await other.visit();
		await mergeAthletes(one.store, nerea, bo.id, noonMs + 1);
		await mergeAthletes(other.store, bo, nerea.id, noonMs + 1);
		for (let round = 0; round < 3; round++)
			for (const laptop of [one, other]) await laptop.visit(noonMs + 10 + round);
		expect((await listAthletes(one.store)).athletes.map(({ id }) => id)).toEqual(['ath-1']);
		expect(await one.state()).toEqual(await other.state());
		for (const id of ['a', 'b']) {
			const { edit, record } = await found(one.store, id);
			expect(edit.athlete?.id ?? record.head.athlete.athleteId).toBe('ath-1');
		}
	});

	it('deleted take along the sessions that were given to them, and leave those given away', async () => {
		const { store, box, ids } = await makeLaptop(new FakeFolder(), nerea, bo);
		await box('given');
		await box('own', of(bo));
		await box('away', of(bo));
		await addEdit(store, 'given', { at: iso(noonMs), athlete: { id: bo.id, name: 'Bo' } });
		await addEdit(store, 'away', { at: iso(noonMs), athlete: { id: nerea.id, name: 'Nerea' } });
		expect(await deleteAthlete(store, bo.id)).toBe(2);
		expect(await ids()).toEqual(['away']);
	});
});
