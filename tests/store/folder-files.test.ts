import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { fileName, parsedName, type SharedName } from '$lib/store/folder/names';
import { readShared, sessionText } from '$lib/store/folder/text';
import { parseSessionJson } from '$lib/store/export';
import { records } from './arbitraries';
import { makeRecord } from './builders';
import { FakeFolder } from './fake-folder';
import { iso, makeLaptop, nerea, noonMs } from './laptop';

const a: SharedName = { kind: 'session', id: 'a' };

/** A sound file of some text: the seal is SHA-256 (FIPS 180-4) over everything in front of it. */
async function sealedLike(object: object): Promise<string> {
	const content = JSON.stringify(object).slice(0, -1);
	const { createHash } = await import('node:crypto');
	return `${content},"sha256":"${createHash('sha256').update(content).digest('hex')}"}\n`;
}

describe('a file in the folder', () => {
	it('says by its name what it holds', () => {
		const named = fc.oneof(
			fc.record({ kind: fc.constant('session' as const), id: fc.uuid() }),
			fc.record({
				kind: fc.constantFrom('edit' as const, 'athlete' as const, 'session-deleted' as const),
				id: fc.uuid(),
				at: fc
					.date({ min: new Date(0), max: new Date('9999-01-01'), noInvalidDate: true })
					.map((date) => date.toISOString()),
				by: fc.constantFrom('4f2a', 'machine7')
			})
		);
		fc.assert(fc.property(named, (name) => void expect(parsedName(fileName(name))).toEqual(name)));
	});

	it.each([
		'a.session (1).json',
		'.a.session.json',
		'a.session.json.crswap',
		'a.20260230T120000000Z.m.edit.json',
		'a.20260302T120000000Z.../.edit.json',
		'notes.txt'
	])('is foreign with a name like %s', (name) => expect(parsedName(name)).toBeUndefined());

	it('gives back the session it was made of, and is an ordinary session file besides', async () => {
		await fc.assert(
			fc.asyncProperty(records, async (record) => {
				const sound = { ...record, head: { ...record.head, practice: false } };
				const text = await sessionText(sound);
				const name: SharedName = { kind: 'session', id: sound.head.id };
				expect(await readShared(name, text)).toEqual({ value: { kind: 'session', record: sound } });
				expect(parseSessionJson(text)).toMatchObject({ status: 'read', record: sound });
			}),
			{ numRuns: 50 }
		);
	});

	it('is told from a half-written one wherever it was cut, and from one with a changed sign', async () => {
		const text = await sessionText(makeRecord({ id: 'a' }));
		for (let length = 0; length < text.length; length += 7)
			expect(await readShared(a, text.slice(0, length))).toMatchObject({ isCut: true });
		const changed = text.replace('"endedMs":1480000', '"endedMs":1480001');
		expect((await readShared(a, changed)).problem).toMatch(/does not match its checksum/);
	});
});

describe('files that nobody should have put there', () => {
	const stamp = { at: iso(noonMs), by: 'm1' };
	const small = (kind: string, id: string, part: object) => ({
		format: 'corner-minute folder',
		version: 1,
		kind,
		id,
		...stamp,
		...part
	});
	const edit: SharedName = { kind: 'edit', id: 'a', ...stamp };

	it('are refused in words, with a sound seal or without', async () => {
		const record = JSON.parse(await sessionText(makeRecord({ id: 'a' }))) as object & { head: object };
		const said = async (name: SharedName, object: object) =>
			(await readShared(name, await sealedLike(object))).problem;
		expect(await said(a, { ...record, head: { ...record.head, id: 'b' } })).toMatch(
			/another session than its name/
		);
		expect(await said(a, { ...record, head: { ...record.head, practice: true } })).toMatch(
			/simulated session/
		);
		expect(await said(a, { ...record, version: 9 })).toMatch(/newer version/);
		expect(await said(edit, small('edit', 'b', {}))).toMatch(/something else than its name says/);
		expect(await said(edit, small('edit', 'a', { edit: { at: iso(noonMs + 1) } }))).toMatch(
			/another|other moment/
		);
		expect(await said(edit, { format: 'something else' })).toMatch(/damaged/);
		const card: SharedName = { kind: 'athlete', id: 'x', ...stamp };
		expect(await said(card, small('athlete', 'x', { athlete: { id: 'y', name: 'Y' } }))).toMatch(
			/somebody else/
		);
		expect(
			await said(card, small('athlete', 'x', { athlete: { id: 'x', name: 'X', example: true } }))
		).toMatch(/invented/);
		const deep = JSON.parse(`${'['.repeat(3000)}${']'.repeat(3000)}`) as object;
		expect(await said(edit, small('edit', 'a', { edit: deep }))).toMatch(/nested/);
		expect(
			await said(edit, small('edit', 'a', { edit: { at: iso(noonMs), note: 'x'.repeat(300_000) } }))
		).toMatch(/longer than/);
	});

	it('cannot change what every object has', async () => {
		const text = JSON.stringify(small('edit', 'a', { edit: { at: iso(noonMs), note: 'n' } })).replace(
			'"note"',
			'"__proto__":{"admin":true},"note"'
		);
		const { createHash } = await import('node:crypto');
		const content = text.slice(0, -1);
		const sealed = `${content},"sha256":"${createHash('sha256').update(content).digest('hex')}"}\n`;
		const { value } = await readShared(edit, sealed);
		expect(value).toEqual({ kind: 'edit', edit: { at: iso(noonMs), note: 'n' } });
		expect(({} as { admin?: boolean }).admin).toBeUndefined();
	});

	it('are reported, harm nothing, count as opened once, and are taken in once they are whole', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('mine');
		await one.visit();
		const before = await one.state();
		const whole = await sessionText(makeRecord({ id: 'new' }));
		folder.put('new.session.json', whole.slice(0, 300));
		folder.put('shopping.txt', 'milk');
		folder.put('new.session (2).json', whole);
		folder.put(
			fileName({ kind: 'session-deleted', id: 'mine', at: '2999-03-09T00:00:00.000Z', by: 'm1' }),
			'x'
		);
		folder.put(fileName({ kind: 'edit', id: 'mine', ...stamp }), 'null');
		const { problems, foreign, opened } = await one.visit();
		expect(await one.state()).toEqual(before);
		expect(foreign).toEqual({ count: 2, examples: ['new.session (2).json', 'shopping.txt'] });
		expect(
			Object.fromEntries(problems.map(({ name, problem }) => [name.split('.').at(-2), problem]))
		).toEqual({
			'session-deleted': expect.stringMatching(/date lies decades ahead/),
			edit: expect.stringMatching(/not whole/),
			session: expect.stringMatching(/not whole/)
		});
		expect(opened).toBe(2);
		const again = await one.visit();
		expect([again.opened, again.problems.length]).toEqual([0, 3]);
		// A copier may set aside a file's room and date first, and fill it in later.
		folder.files.set('new.session.json', { ...folder.files.get('new.session.json')!, text: whole });
		expect((await one.visit()).cameIn.sessions).toBe(1);
		expect(await one.ids()).toEqual(['mine', 'new']);
	});

	it('do not get between two sessions of one id', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.box('a');
		folder.put('a.session.json', await sessionText(makeRecord({ id: 'a', endedMs: 5 })));
		const before = await one.state();
		expect((await one.visit()).problems).toEqual([
			{ name: 'a.session.json', problem: expect.stringMatching(/another session .* Both stay/) }
		]);
		expect(await one.state()).toEqual(before);
		expect((await one.visit()).opened).toBe(0);
	});

	it('are put right where they are half of what lies here, as after a crash in mid-writing', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await one.visit();
		await one.box('a');
		folder.dies = true;
		await expect(one.visit()).rejects.toMatchObject({ name: 'QuotaExceededError' });
		expect(folder.files.get('files/2026/a.session.json')?.text).toBe('');
		folder.dies = false;
		expect((await one.visit()).wentOut.sessions).toBe(1);
		const other = await makeLaptop(folder);
		expect((await other.visit()).problems).toEqual([]);
		expect(await other.ids()).toEqual(['a']);
	});
});
