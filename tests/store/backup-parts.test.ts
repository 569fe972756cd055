import { describe, expect, it } from 'vitest';
import fc from '../by-chance';
import * as old from '../fixtures/page-1.js';
import { makeRecord } from './builders';
import { contents, freshStore, plant } from './fresh-store';
import { iso, noonMs } from './laptop';
import { gyms, opened } from './small-gyms';
import { bring, parsed, partsOf, wholeBackup } from './whole-backup';
import { saveAthlete } from '$lib/store/athletes';
import { makeBackup, mostOfPart, type MadeBackup } from '$lib/store/backup/backup';
import type { Size } from '$lib/store/backup/units';
import { Cancelled } from '$lib/store/breathe';
import type { UseStore } from '$lib/store/database';
import { addEdit } from '$lib/store/edits';
import { openJournal } from '$lib/store/journal';
import { deleteSession, purgeDeleted } from '$lib/store/sessions';

const now = new Date(noonMs);
const least: Size = { characters: 1, entries: 1, values: 1 };

const limits: fc.Arbitrary<Size> = fc.record({
	characters: fc.oneof(fc.integer({ min: 1, max: 20_000 }), fc.constant(mostOfPart.characters)),
	entries: fc.oneof(fc.integer({ min: 1, max: 40 }), fc.constant(mostOfPart.entries)),
	values: fc.oneof(fc.integer({ min: 1, max: 600 }), fc.constant(mostOfPart.values))
});

const sessionOf = (key: string) => /^(?:head|body|edit|tombstone)\/([^/]+)/.exec(key)?.[1];

/** A gym with a session of an hour's length beside short ones. */
async function threeSessions(): Promise<UseStore> {
	const store = freshStore();
	await saveAthlete(store, { id: 'ath-1', name: 'Nerea' });
	for (const id of ['rec-1', 'rec-2', 'rec-3']) await openJournal(store, id).finish([makeRecord({ id })]);
	await addEdit(store, 'rec-2', { at: iso(noonMs), title: 'Pads with the left' });
	return store;
}

describe('a backup in parts', () => {
	it('comes to what one whole backup comes to, whatever goes into a part and in whatever order they come', async () => {
		await fc.assert(
			fc.asyncProperty(
				gyms,
				limits,
				fc.boolean(),
				fc.infiniteStream(fc.nat()),
				async (gym, most, hasStandIn, chance) => {
					const store = await opened(gym);
					const parts = await partsOf(store, most);
					const whole = await wholeBackup(store, now);
					const own = await contents(store);
					for (const { text } of parts) expect(await bring(store, text)).toBe(true);
					expect(await contents(store)).toEqual(own);

					// The athlete that a page makes at the first visit stands for nobody once somebody comes.
					const empty = async () => {
						const other = freshStore();
						if (hasStandIn) await plant(other, 'athlete/first', { id: 'first', name: 'Me' });
						return other;
					};
					const expected = await empty();
					await bring(expected, whole.text);
					const wanted = await contents(expected);
					const got = await empty();
					const shuffled = parts
						.map((part) => [chance.next().value as number, part] as const)
						.sort(([one], [other]) => one - other);
					for (const [, { text }] of shuffled) await bring(got, text);
					expect(await contents(got)).toEqual(wanted);
				}
			),
			{ numRuns: 60 }
		);
	});

	it('has every part within what may go into one, with whole sessions, and each key once', async () => {
		await fc.assert(
			fc.asyncProperty(gyms, limits, async (gym, most) => {
				const store = await opened(gym);
				const parts = await partsOf(store, most);
				const whole = await wholeBackup(store, now);
				const files = await Promise.all(parts.map(({ text }) => parsed(text)));
				const keys = files.flatMap(({ entries }) => [...entries.keys()]);
				expect(keys.toSorted()).toEqual([...(await parsed(whole.text)).entries.keys()].toSorted());
				const sessions = files.map(
					({ entries }) => new Set([...entries.keys()].flatMap((key) => sessionOf(key) ?? []))
				);
				const all = sessions.flatMap((ids) => [...ids]);
				expect(new Set(all).size, 'no session stands in two parts').toBe(all.length);
				for (const [i, { text }] of parts.entries()) {
					// What belongs together may be more than that: two sessions never do.
					if (sessions[i]!.size < 2) continue;
					expect(text.length).toBeLessThanOrEqual(most.characters);
					expect(files[i]!.entries.size).toBeLessThanOrEqual(most.entries);
				}
				expect(parts.at(-1)).toMatchObject({ sessionCount: whole.sessionCount, sessionsToCome: 0 });
				if (parts.length === 1) expect(parts[0]).toEqual(whole);
				else
					expect(files.map(({ part }) => part)).toEqual(
						parts.map((_, i) => ({ number: i + 1, isLast: i === parts.length - 1 }))
					);
			}),
			{ numRuns: 60 }
		);
	});

	it('counts what stands around the entries, too', async () => {
		const store = await threeSessions();
		const { length } = (await wholeBackup(store, now)).text;
		for (let less = 1; less < 400; less += 10) {
			const most = { ...mostOfPart, characters: length - less };
			for (const { text } of await partsOf(store, most))
				expect(text.length).toBeLessThanOrEqual(most.characters);
		}
	});

	it('never splits a session: one that is larger than a part makes a part of its own', async () => {
		const parts = await partsOf(await threeSessions(), least);
		const keys = await Promise.all(parts.map(async ({ text }) => [...(await parsed(text)).entries.keys()]));
		expect(keys.slice(-3)).toEqual([
			['body/rec-1', 'head/rec-1'],
			['body/rec-2', `edit/rec-2/${iso(noonMs)}`, 'head/rec-2'],
			['body/rec-3', 'head/rec-3']
		]);
	});

	it('is called by its day, and a part by its number', async () => {
		const store = await threeSessions();
		expect(await wholeBackup(store, now)).toMatchObject({
			fileName: 'corner-minute-backup-2026-03-03.json'
		});
		const parts = await partsOf(store, { ...mostOfPart, entries: 6 });
		expect(parts.map(({ fileName }) => fileName)).toEqual([
			'corner-minute-backup-2026-03-03-part-1.json',
			'corner-minute-backup-2026-03-03-part-2.json'
		]);
		expect(parts.map(({ sessionCount, sessionsToCome }) => [sessionCount, sessionsToCome])).toEqual([
			[1, 2],
			[3, 0]
		]);
	});

	it('is restored part by part by a page of before', async () => {
		const parts = await partsOf(await threeSessions(), { ...mostOfPart, entries: 6 });
		expect(parts).toHaveLength(2);
		freshStore();
		const former = old.openDatabase();
		for (const { text } of parts.toReversed()) {
			const plan = await old.planRestore(former, text);
			if (plan.status !== 'ready') throw new Error(plan.problem);
			expect(await old.restore(former, plan)).toEqual({ status: 'restored' });
		}
		for (const id of ['rec-1', 'rec-2', 'rec-3'])
			expect(await old.readSession(former, id)).toMatchObject({ status: 'found' });
		expect(await old.readSession(former, 'rec-2')).toMatchObject({ edit: { title: 'Pads with the left' } });
		expect(await old.getAthlete(former, 'ath-1')).toMatchObject({ value: { name: 'Nerea' } });
	});
});

describe('between two parts', () => {
	it('passes over a session that was purged, and one that is new', async () => {
		const store = await threeSessions();
		const { next } = await makeBackup(store, now, { ...mostOfPart, entries: 4 });
		await deleteSession(store, 'rec-3', noonMs);
		await purgeDeleted(store, 0, noonMs);
		await openJournal(store, 'new').finish([makeRecord({ id: 'rec-4' })]);
		const ids: string[] = [];
		let made: MadeBackup | undefined;
		for (let more = next; more; more = made.next) {
			made = await more(() => undefined);
			ids.push(...[...(await parsed(made.text)).entries.keys()].filter((key) => key.startsWith('head/')));
		}
		expect(ids).not.toContain('head/rec-3');
		expect(ids).not.toContain('head/rec-4');
		expect(ids).toContain('head/rec-2');
		expect(made).toMatchObject({ leftOut: [], sessionsToCome: 0 });
	});

	it('makes the next part anew where it was called off', async () => {
		const store = freshStore();
		const ids = Array.from({ length: 200 }, (_, i) => `rec-${i}`);
		await openJournal(store, 's').finish(ids.map((id) => makeRecord({ id })));
		const { next } = await makeBackup(store, now, { ...mostOfPart, entries: 130 });
		const stop = () => {
			throw new Cancelled();
		};
		await expect(next!(stop)).rejects.toThrow(Cancelled);
		const made = await next!(() => undefined);
		expect(made).toMatchObject({ part: { number: 2, isLast: false }, sessionCount: 130, sessionsToCome: 70 });
		expect((await next!(() => undefined)).text).toBe(made.text);
	});

	it('has read no more than a few sessions beyond those that are in', async () => {
		const store = freshStore();
		const ids = Array.from({ length: 60 }, (_, i) => `rec-${i}`);
		await openJournal(store, 's').finish(ids.map((id) => makeRecord({ id })));
		let bodies = 0;
		const counting: UseStore = (mode, work) =>
			store(mode, (objects) =>
				work(
					new Proxy(objects, {
						get(target, name) {
							const member: unknown = Reflect.get(target, name, target);
							if (typeof member !== 'function') return member;
							return (...given: unknown[]) => {
								if (name.toString().startsWith('get') && name !== 'getAllKeys')
									bodies += typeof given[0] === 'string' ? Number(given[0].startsWith('body/')) : Infinity;
								return member.apply(target, given) as unknown;
							};
						}
					})
				)
			);
		const { sessionCount } = await makeBackup(counting, now, { ...mostOfPart, entries: 10 });
		expect(sessionCount).toBeGreaterThan(0);
		expect(bodies).toBeLessThanOrEqual(sessionCount + 10);
	});
});

describe('what a part cannot hold', () => {
	it('is told over all parts, and is in none', async () => {
		const store = await threeSessions();
		await plant(store, 'athlete/ath-9', 'damaged');
		await plant(store, 'body/rec-2', 'damaged');
		const parts = await partsOf(store, least);
		expect(parts[0]!.leftOut.map(({ key }) => key)).toEqual(['athlete/ath-9']);
		expect(
			parts
				.at(-1)!
				.leftOut.map(({ key }) => key)
				.toSorted()
		).toEqual(['athlete/ath-9', 'body/rec-2', `edit/rec-2/${iso(noonMs)}`, 'head/rec-2']);
		// Also where it is one file, which would be refused for a correction that hangs on nothing.
		expect((await parsed((await wholeBackup(store, now)).text)).entries.has('head/rec-3')).toBe(true);
	});

	it('is left out by itself where no file could bring it back', async () => {
		const store = await threeSessions();
		// More members than are read back: see bounded-json.ts.
		const members = Object.fromEntries(Array.from({ length: 100_001 }, (_, i) => [`m${i}`, 1]));
		await plant(store, 'camp/one', members);
		const { text, leftOut } = await wholeBackup(store, now);
		expect(leftOut).toEqual([{ key: 'camp/one', problem: 'It is larger than what a backup can hold.' }]);
		expect((await parsed(text)).entries.has('head/rec-3')).toBe(true);
	});
});
