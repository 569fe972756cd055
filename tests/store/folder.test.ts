import { describe, expect, it } from 'vitest';
import { getAthlete, listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { deleteAthlete, restoreAthlete } from '$lib/store/gone-athletes';
import { wholeBackup } from './whole-backup';
import { filesIn } from '$lib/store/folder/door';
import { setConsent } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import { Interrupted } from '$lib/store/folder/visit';
import { withdraw } from '$lib/store/folder/withdraw';
import { holdings } from '$lib/store/folder/report';
import { addEdit } from '$lib/store/edits';
import { deleteSession, purgeDeleted, readSession, restoreSession } from '$lib/store/sessions';
import type { UseStore } from '$lib/store/database';
import { FakeFolder } from './fake-folder';
import { bo, dayMs, iso, makeLaptop, nerea, noonMs, shareSession } from './laptop';

const namesIn = (folder: FakeFolder, part = '') =>
	folder
		.names()
		.filter((name) => name.includes(part))
		.sort();
const of = (athlete: { id: string; name: string }) => ({
	athlete: { athleteId: athlete.id, name: athlete.name }
});

describe('a folder that two laptops share', () => {
	it('carries session, correction and card to the other, and opens nothing twice', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, { ...nerea, thresholdBpm: 171 });
		await one.box('a');
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook' });
		const sent = await one.visit();
		const oneOfEach = { sessions: 1, corrections: 1, cards: 1, days: 0, plans: 0, deletions: 0, restored: 0 };
		expect(sent.wentOut).toEqual(oneOfEach);

		const other = await makeLaptop(folder);
		const got = await other.visit();
		expect(got.cameIn).toEqual(oneOfEach);
		expect(got.problems).toEqual([]);
		expect(await other.state()).toEqual(await one.state());
		const again = await other.visit();
		expect([again.listed, again.opened]).toEqual([3, 0]);
		expect((await one.visit()).opened).toBe(0);
	});

	it('is written for athletes who agreed and for no others, nor by the practice strap or the example', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await saveAthlete(one.store, bo);
		await one.box('hers');
		await one.box('his', of(bo));
		await one.box('practice', { practice: true });
		await one.box('invented', { example: true });
		await addEdit(one.store, 'his', { at: iso(noonMs), note: 'private' });
		await one.visit();
		expect(namesIn(folder, 'session')).toEqual(['hers.session.json']);
		expect([...folder.files.values()].map(({ text }) => text).join()).not.toMatch(/Bo|private|ath-2/);
		await setConsent(one.store, bo.id, true);
		await one.visit();
		expect(namesIn(folder, 'session')).toEqual(['hers.session.json', 'his.session.json']);
		expect(await holdings(one.store)).toEqual([
			{ athleteId: 'ath-2', name: 'Bo', sessions: 1, hasCard: true, isOn: true },
			{ athleteId: 'ath-1', name: 'Nerea', sessions: 1, hasCard: true, isOn: true }
		]);
	});

	it('gets no session that was given to or taken from somebody who did not agree', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await saveAthlete(one.store, bo);
		await one.box('given');
		await one.box('taken', of(bo));
		await addEdit(one.store, 'given', { at: iso(noonMs), athlete: { id: bo.id, name: bo.name } });
		await addEdit(one.store, 'taken', { at: iso(noonMs), athlete: { id: nerea.id, name: nerea.name } });
		await one.visit();
		expect(namesIn(folder).filter((name) => !name.startsWith('ath-1'))).toEqual([]);
	});

	it('stays out of a backup, which another browser may restore', async () => {
		const one = await makeLaptop(new FakeFolder(), nerea);
		await one.box('a');
		await one.visit();
		const { text, leftOut } = await wholeBackup(one.store, new Date(noonMs));
		expect(leftOut).toEqual([]);
		expect(text).not.toMatch(/"(folder|shared)\//);
	});
});

describe('two laptops that speak in the same millisecond', () => {
	it('end with the same words, field by field and whoever reads first, and keep both files', async () => {
		const { folder, one, other } = await shareSession(nerea);
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'from one', effort: 7 });
		await addEdit(other.store, 'a', { at: iso(noonMs), note: 'from the other', title: 'pads' });
		for (const [laptop, bpm] of [
			[one, 171],
			[other, 172]
		] as const)
			await saveAthlete(laptop.store, { ...nerea, thresholdBpm: bpm, changedAt: iso(noonMs) });
		for (const laptop of [one, other, one, other]) await laptop.visit(noonMs + 1);
		expect(await one.state()).toEqual(await other.state());
		expect(await readSession(one.store, 'a')).toMatchObject({ edit: { effort: 7, title: 'pads' } });
		expect(namesIn(folder, '.edit.')).toHaveLength(2);
	});
});

describe('a visit', () => {
	it('ends between two files when a session begins, and the next one goes on where it stood', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder)];
		for (const id of ['a', 'b', 'c']) await one.box(id);
		await one.visit();
		let asked = 0;
		const until = () => ++asked <= 2;
		await expect(visitFolder(other.store, filesIn(folder.handle), noonMs, until)).rejects.toThrow(
			Interrupted
		);
		expect(folder.opened).toHaveLength(2);
		await other.visit();
		expect(folder.opened).toHaveLength(4);
		expect(await other.ids()).toEqual(['a', 'b', 'c']);
	});

	it('tells how far it is: of the files that are new, and of the sessions that are not there yet', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		for (let i = 0; i < 45; i++) await one.box(`s-${i}`);
		const told: unknown[] = [];
		const visited = (store: UseStore) =>
			visitFolder(store, filesIn(folder.handle), noonMs, undefined, (progress) => told.push(progress));
		await visited(one.store);
		expect(told).toEqual([20, 40].map((done) => ({ what: 'writing', done, total: 45 })));
		told.length = 0;
		await visited((await makeLaptop(folder)).store);
		// With the card of the athlete.
		expect(told).toEqual([20, 40].map((done) => ({ what: 'reading', done, total: 46 })));
		told.length = 0;
		await visited(one.store);
		expect(told, 'nothing new').toEqual([]);
	});

	it('of a folder that is gone or forbidden says which, and nothing is lost', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		for (const name of ['NotFoundError', 'NotAllowedError']) {
			folder.failing = name;
			await expect(one.visit()).rejects.toMatchObject({ name });
		}
		folder.failing = undefined;
		expect((await one.visit()).wentOut.sessions).toBe(1);
	});

	it('takes an athlete’s files out and leaves what lies here and those of others', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea, bo);
		await one.box('hers');
		await one.box('his', of(bo));
		await addEdit(one.store, 'his', { at: iso(noonMs), note: 'n' });
		await one.visit();
		await setConsent(one.store, bo.id, false);
		await withdraw(one.store, filesIn(folder.handle), bo.id, noonMs);
		await one.visit();
		expect(namesIn(folder).map((name) => name.split('.')[0])).toEqual(['ath-1', 'hers']);
		expect(await one.ids()).toEqual(['hers', 'his']);
	});
});

describe('a deletion', () => {
	it('reaches the other laptop, outlives the purge on both, and clears the files away after a day', async () => {
		const { folder, one, other } = await shareSession();
		await deleteSession(one.store, 'a', noonMs + 1);
		await one.visit(noonMs + 2);
		expect(namesIn(folder, 'a.session.json')).toHaveLength(1);
		expect((await other.visit(noonMs + 3)).cameIn.deletions).toBe(1);
		expect(await other.ids()).toEqual([]);
		for (const { store } of [one, other]) await purgeDeleted(store, dayMs, noonMs + 2 * dayMs);
		await one.visit(noonMs + 2 * dayMs);
		await other.visit(noonMs + 2 * dayMs);
		expect(namesIn(folder, 'a.session.json')).toEqual([]);
		expect(namesIn(folder, 'session-deleted')).toHaveLength(1);
		expect([await one.ids(), await other.ids()]).toEqual([[], []]);
	});

	it('that was purged before the folder could be reached is told all the same', async () => {
		const { one, other } = await shareSession();
		await deleteSession(one.store, 'a', noonMs);
		await purgeDeleted(one.store, dayMs, noonMs + dayMs);
		await one.visit(noonMs + dayMs);
		expect(await one.ids()).toEqual([]);
		await other.visit(noonMs + dayMs);
		expect(await other.ids()).toEqual([]);
	});

	it('is taken back everywhere when it is taken back, even where it was purged', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea), await makeLaptop(folder)];
		await one.box('a');
		await one.visit();
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'kept' });
		await one.visit();
		await other.visit();
		await deleteSession(one.store, 'a', noonMs + 1);
		await one.visit(noonMs + 2);
		await other.visit(noonMs + 3);
		await purgeDeleted(other.store, dayMs, noonMs + 4 + dayMs);
		await restoreSession(one.store, 'a');
		await one.visit(noonMs + 5 + dayMs);
		expect((await other.visit(noonMs + 6 + dayMs)).cameIn).toMatchObject({ sessions: 1, corrections: 1 });
		expect(await other.state()).toMatchObject({ sessions: [expect.stringContaining('kept')] });
	});

	it('on a laptop that is not the last to speak harms nothing that came later', async () => {
		const { one, other } = await shareSession();
		// The clock of the other laptop is a day behind; what it says in knowledge of a deletion is later all the same.
		await deleteSession(one.store, 'a', noonMs);
		await one.visit(noonMs);
		await other.visit(noonMs - dayMs / 2);
		await restoreSession(other.store, 'a');
		await other.visit(noonMs - dayMs / 2);
		await one.visit(noonMs);
		expect([await one.ids(), await other.ids()]).toEqual([['a'], ['a']]);
	});

	it('of an athlete takes card and sessions from the other laptop, and bringing them back brings them back', async () => {
		const { one, other } = await shareSession(bo);
		await one.visit();
		await deleteAthlete(one.store, nerea.id, noonMs + 1);
		await one.visit(noonMs + 2);
		await other.visit(noonMs + 3);
		expect((await listAthletes(other.store)).athletes.map(({ name }) => name)).toEqual(['Bo']);
		expect(await other.ids()).toEqual([]);
		await restoreAthlete(one.store, nerea.id);
		await one.visit(noonMs + 4);
		await other.visit(noonMs + 5);
		expect((await getAthlete(other.store, nerea.id)).value).toEqual(nerea);
		expect(await other.ids()).toEqual(['a']);
	});
});
