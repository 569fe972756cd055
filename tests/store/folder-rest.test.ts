import { describe, expect, it } from 'vitest';
import { filesIn } from '$lib/store/folder/door';
import { withdraw } from '$lib/store/folder/withdraw';
import { mergeAthletes } from '$lib/store/folder/merges';
import { setConsent } from '$lib/store/folder/state';
import { addEdit } from '$lib/store/edits';
import { saveDay } from '$lib/store/days';
import { makeDay, makeEntry } from '../review/training-days';
import { FakeFolder } from './fake-folder';
import { bo, dayMs, iso, makeLaptop, nerea, noonMs } from './laptop';

const textsIn = (folder: FakeFolder) => new Map([...folder.files].map(([name, { text }]) => [name, text]));

describe('a folder in which nothing new is said', () => {
	it('keeps the files of a merged card as long as the other card may not be named', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea, bo), await makeLaptop(folder, nerea, bo)];
		await one.visit();
		await other.visit();
		await mergeAthletes(one.store, nerea, bo.id, noonMs);
		await setConsent(one.store, nerea.id, false);
		const before = textsIn(folder);
		for (const laptop of [one, other]) await laptop.visit(noonMs + 3 * dayMs);
		expect(textsIn(folder)).toEqual(before);
	});

	it('has no correction as news for ever where a file beside it stays cut short', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook' });
		await one.visit();
		const [name, { text }] = [...folder.files].find(([name]) => name.includes('.edit.'))!;
		folder.put(name.replace(/Z\.\w+\./, 'Z.another.'), text.slice(0, 40));
		expect((await one.visit()).cameIn.corrections).toBe(0);
	});

	it('is not written again where days of a merged card come back again and again', async () => {
		const folder = new FakeFolder();
		const [one, other] = [await makeLaptop(folder, nerea, bo), await makeLaptop(folder, nerea, bo)];
		await saveDay(other.store, bo.id, '2026-03-03', { changed: makeDay(makeEntry()) }, noonMs);
		await other.visit();
		const kept = textsIn(folder);
		await one.visit();
		await mergeAthletes(one.store, nerea, bo.id, noonMs);
		const comeBack = async () => {
			for (const [name, text] of kept) folder.put(name, text);
			for (const laptop of [one, other]) await laptop.visit(noonMs + 3 * dayMs);
			return folder
				.names()
				.filter((name) => name.startsWith(nerea.id))
				.sort();
		};
		await comeBack();
		const after = await comeBack();
		expect(after.join()).toContain('.days.json');
		expect(await comeBack()).toEqual(after);
	});

	it('is told a day again that was taken out, though an older file of it has come back', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		const enter = (id: string) =>
			saveDay(one.store, nerea.id, '2026-03-03', { changed: makeDay(makeEntry({ id })) }, noonMs);
		await enter('a');
		await one.visit();
		const older = textsIn(folder);
		await enter('b');
		await one.visit();
		await withdraw(one.store, filesIn(folder.handle), nerea.id, noonMs);
		for (const [name, text] of older) folder.put(name, text);
		await one.visit();
		expect([...textsIn(folder).values()].join()).toContain('"entries/b"');
	});
});
