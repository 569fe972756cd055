import { describe, expect, it } from 'vitest';
import { saveAthlete, deleteAthlete } from '$lib/store/athletes';
import { setConsent } from '$lib/store/folder-state';
import { mergeAthletes } from '$lib/store/folder-merges';
import { addEdit, deleteSession, purgeDeleted, readSession, restoreSession } from '$lib/store/sessions';
import { FakeFolder } from './fake-folder';
import { bo, dayMs, iso, makeLaptop, nerea, noonMs } from './laptop';

const namesIn = (folder: FakeFolder, part = '') =>
	[...folder.files.keys()].filter((name) => name.includes(part)).sort();

describe('a folder that two laptops share', () => {
	it('carries a session, its correction and the card to the other, and opens nothing twice', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, { ...nerea, thresholdBpm: 171 });
		await one.box('a');
		await addEdit(one.store, 'a', { at: iso(noonMs), note: 'left hook' });
		const sent = await one.visit();
		expect(sent.wentOut).toEqual({ sessions: 1, corrections: 1, cards: 1, deletions: 0, restored: 0 });

		const other = await makeLaptop(folder);
		const got = await other.visit();
		expect(got.cameIn).toEqual({ sessions: 1, corrections: 1, cards: 1, deletions: 0, restored: 0 });
		expect(got.problems).toEqual([]);
		expect(await other.state()).toEqual(await one.state());
		const again = await other.visit();
		expect([again.listed, again.opened]).toEqual([3, 0]);
		expect((await one.visit()).opened).toBe(0);
	});
});
