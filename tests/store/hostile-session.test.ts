import { fileName } from '$lib/store/folder/names';
import { sessionText } from '$lib/store/folder/text';
import { parseSessionJson, sessionJson } from '$lib/store/export';
import { openJournal } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';
import { summaryOf } from '$lib/review/summary';
import type { Summary } from '$lib/record/summary';
import { describe, expect, it } from 'vitest';
import { makeRecord } from './builders';
import { FakeFolder } from './fake-folder';
import { freshStore } from './fresh-store';
import { makeLaptop } from './laptop';

const dayMs = 86_400_000;

describe.each([
	['lasts 31 years', { endedMs: 1e12 }],
	[
		'adds 15,000 rounds',
		{ amendments: Array.from({ length: 15_000 }, () => ({ kind: 'add round', atMs: 1 }) as const) }
	],
	['ends at no time', { endedMs: Infinity }]
])('a file of some kilobytes whose session %s', (_, overrides) => {
	const record = makeRecord({ id: 'evil', ...overrides });

	it('is refused in words', () => {
		expect(parseSessionJson(sessionJson(record))).toEqual({
			status: 'refused',
			problem: expect.stringMatching(/^It is damaged at/)
		});
	});

	it('is left aside in the shared folder', async () => {
		const folder = new FakeFolder();
		folder.put(fileName({ kind: 'session', id: 'evil' }), await sessionText(record));
		const laptop = await makeLaptop(folder);
		const { problems, cameIn } = await laptop.visit();
		expect(problems).toHaveLength(1);
		expect(cameIn.sessions).toBe(0);
		expect((await readSession(laptop.store, 'evil')).status).toBe('missing');
	});
});

it('what the page may keep and cannot measure comes in and asks for no grid', () => {
	const read = parseSessionJson(sessionJson(makeRecord({ endedMs: 99 * dayMs })));
	if (read.status !== 'read') throw new Error(read.problem);
	expect(() => summaryOf(read.record)).toThrow(/more than 8 days/);
});

it('a summary that cannot be stored costs nothing but itself', async () => {
	const store = freshStore();
	const record = makeRecord();
	const summary: Summary = { ...summaryOf(record), peakBpm: NaN };
	await openJournal(store, 'ses-1').finish([{ ...record, summary }]);
	const found = await readSession(store, record.head.id);
	expect(found.status).toBe('found');
	expect(found).not.toHaveProperty('summary');
});
