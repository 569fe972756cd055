import { describe, expect, it } from 'vitest';
import { FakeFolder } from './fake-folder';
import { bo, dayMs, makeLaptop, nerea, noonMs } from './laptop';
import { deleteAthlete } from '$lib/store/gone-athletes';
import { filesIn } from '$lib/store/folder/door';
import { withdraw } from '$lib/store/folder/withdraw';
import { deleteSession, purgeDeleted } from '$lib/store/sessions';

/** As a later version of this page might name them: of an athlete, of a session, of neither. */
const laterFiles = new Map([
	['ath-1.20260302T183000000Z.m9.later.json', '{"format":"corner-minute folder","kind":"later"}'],
	['a.20260302T183000000Z.m9.session-later.json', 'no JSON at all'],
	['ath-1.later.json', '']
]);

const laterIn = (folder: FakeFolder) =>
	new Map([...laterFiles.keys()].flatMap((name) => [[name, folder.files.get(name)?.text]]));

describe('files of a kind that a later version of this page writes', () => {
	it('stay as they are through every visit, deletion and withdrawal, and reach every copy of the folder', async () => {
		const [mine, theirs] = [new FakeFolder(), new FakeFolder()];
		const [one, other] = [await makeLaptop(mine, nerea, bo), await makeLaptop(theirs, bo)];
		for (const [name, text] of laterFiles) mine.put(name, text);
		const copied = async (atMs: number) => {
			const report = await one.visit(atMs);
			theirs.copyFrom(mine);
			await other.visit(atMs);
			mine.copyFrom(theirs);
			return report;
		};
		await one.box('a');
		await one.box('b');
		const report = await copied(noonMs);
		expect(report).toMatchObject({ problems: [], foreign: { count: laterFiles.size } });

		await deleteSession(one.store, 'a', noonMs);
		await copied(noonMs);
		await purgeDeleted(one.store, dayMs, noonMs + 2 * dayMs);
		await copied(noonMs + 2 * dayMs);
		await withdraw(one.store, filesIn(mine.handle), nerea.id, noonMs + 2 * dayMs);
		await deleteAthlete(one.store, nerea.id, noonMs + 2 * dayMs);
		await copied(noonMs + 4 * dayMs);

		expect([laterIn(mine), laterIn(theirs)]).toEqual([laterFiles, laterFiles]);
		expect([...mine.opened, ...theirs.opened].filter((name) => laterFiles.has(name))).toEqual([]);
		expect(mine.files.has('a.session.json')).toBe(false);
	});
});
