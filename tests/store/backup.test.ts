import { readFileSync } from 'node:fs';
import fc from '../by-chance';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, it } from 'vitest';
import { edits, records } from './arbitraries';
import { makeRecord, padsPlan, startEntry } from './builders';
import { abortingStore } from './faulty-store';
import { allKeys, contents, freshStore, plant, valueOf } from './fresh-store';
import { savePlanAndFuel } from './plan-and-fuel';
import { listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { wholeBackup } from './whole-backup';
import { rawText } from '$lib/store/backup/backup';
import type { UseStore } from '$lib/store/database';
import { logFuel, readFuelLog } from '$lib/store/fuel';
import { openJournal } from '$lib/store/journal';
import { planRestore, restore, type RestorePlan } from '$lib/store/backup/restore';
import { addEdit } from '$lib/store/edits';
import { deleteSession, listSessions, purgeDeleted, readSession, restoreSession } from '$lib/store/sessions';
import { deletePlan } from '$lib/store/plans';
import { listPlans } from '$lib/store/plan-list';
import { setSetting } from '$lib/store/settings';

const now = new Date('2026-03-05T20:00:00.000Z');
const fixture = readFileSync('tests/fixtures/backup-1.json', 'utf8');
type Pair = [string, unknown];
interface File {
	format: string;
	version: unknown;
	madeAt: unknown;
	entries: Pair[];
}
const fixtureFile = () => JSON.parse(fixture) as File;

/** One of everything that is kept. */
async function fullStore(): Promise<UseStore> {
	const store = freshStore();
	await saveAthlete(store, { id: 'ath-1', name: 'Nerea', thresholdBpm: 171.5 });
	await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
	await openJournal(store, 's').finish([
		makeRecord({ id: 'rec-1' }),
		makeRecord({ id: 'rec-2', athlete: { athleteId: 'ath-2', name: 'Bo' } }),
		makeRecord({ id: 'rec-3' })
	]);
	await addEdit(store, 'rec-1', { at: '2026-03-02T19:10:00.000Z', title: 'Pads with the left' });
	await addEdit(store, 'rec-1', { at: '2026-03-03T08:00:00.000Z', roundEfforts: { 1: 5 } });
	await deleteAthlete(store, 'ath-2', now.getTime());
	await deleteSession(store, 'rec-3', now.getTime());
	await savePlanAndFuel(store);
	return store;
}

async function planned(store: UseStore, text: string): Promise<RestorePlan> {
	const plan = await planRestore(store, text);
	if (plan.status === 'refused') throw new Error(plan.problem);
	return plan;
}

async function restored(store: UseStore, text: string, nowMs = now.getTime()): Promise<RestorePlan> {
	const plan = await planned(store, text);
	expect(await restore(store, plan, undefined, nowMs)).toEqual({ status: 'restored' });
	return plan;
}

const counts = ({ groups }: RestorePlan) =>
	Object.fromEntries(
		groups.map(({ kind, added, changed, skipped }) => [kind, [added.length, changed.length, skipped.length]])
	);
const groupOf = ({ groups }: RestorePlan, kind: string) => groups.find((group) => group.kind === kind)!;

describe('everything into one file and back', () => {
	it('brings back every key and value into an empty browser', async () => {
		const store = await fullStore();
		const before = await contents(store);
		const { text, sessionCount, athleteCount, leftOut } = await wholeBackup(store, now);
		expect({ sessionCount, athleteCount, leftOut }).toEqual({
			sessionCount: 3,
			athleteCount: 1,
			leftOut: []
		});
		const empty = freshStore();
		const plan = await restored(empty, text);
		const travels = before.filter(([key]) => !/^(folder|shared\/(athlete|session))\//.test(key));
		expect(await contents(empty)).toEqual(travels);
		expect(counts(plan)).toEqual({
			Sessions: [3, 0, 0],
			Athletes: [2, 0, 0],
			Plans: [1, 0, 0],
			Settings: [2, 0, 0],
			'Weight and food': [3, 0, 0]
		});
		expect(groupOf(plan, 'Sessions').added[0]!.name).toMatch(/^Pads with the left, .*2026.*, Nerea$/);
	});

	it('keeps every session exactly, whatever was recorded', async () => {
		await fc.assert(
			fc.asyncProperty(records, edits, async (record, edit) => {
				const { id } = record.head;
				const store = freshStore();
				await openJournal(store, 's').finish([record]);
				await addEdit(store, id, { at: '2026-03-02T19:10:00.000Z', ...edit });
				const { text } = await wholeBackup(store, now);
				const empty = freshStore();
				await restored(empty, text);
				expect(await readSession(empty, id)).toStrictEqual(await readSession(store, id));
			}),
			{ numRuns: 40, seed: 6 }
		);
	});

	it('changes nothing when it is restored a second time', async () => {
		const { text } = await wholeBackup(await fullStore(), now);
		const store = freshStore();
		await restored(store, text);
		const once = await contents(store);
		const plan = await restored(store, text);
		expect(plan.isIdle).toBe(true);
		expect(await contents(store)).toEqual(once);
	});

	it('leaves out what still runs, what belongs to this browser, and names what cannot be read', async () => {
		const store = await fullStore();
		await openJournal(store, 'running').append([startEntry]);
		await setSetting(store, 'lastBackupAt', now.toISOString());
		await plant(store, 'head/newer', { head: { version: 9, id: 'newer' } });
		await plant(store, 'body/newer', 'what a later version writes');
		await plant(store, 'edit/newer/2026-03-03T08:00:00.000Z', { at: '2026-03-03T08:00:00.000Z' });
		await plant(store, 'camp/one', { weeks: 8 });
		const { text, leftOut } = await wholeBackup(store, now);
		expect(leftOut.map(({ key }) => key).sort()).toEqual([
			'body/newer',
			'edit/newer/2026-03-03T08:00:00.000Z',
			'head/newer'
		]);
		const empty = freshStore();
		await restored(empty, text);
		expect(await valueOf(empty, 'camp/one'), 'of a later version, carried along').toEqual({ weeks: 8 });
		expect((await allKeys(empty)).filter((key) => /newer|running|lastBackupAt/.test(key))).toEqual([]);
	});

	it('takes nothing into a backup that restoring would refuse', async () => {
		const store = await fullStore();
		await addEdit(store, 'rec-1', { at: '2026-03-04T08:00:00.000Z', note: 'x'.repeat(200_001) });
		const { text, leftOut } = await wholeBackup(store, now);
		expect(leftOut).toEqual([
			{ key: 'edit/rec-1/2026-03-04T08:00:00.000Z', problem: expect.stringMatching(/longer than 200000/) }
		]);
		expect((await planRestore(freshStore(), text)).status).toBe('ready');
	});

	it('reads the backup that form 1 wrote', async () => {
		const store = freshStore();
		const plan = await restored(store, fixture);
		expect(plan.madeAt).toBe('2026-03-05T20:00:00.000Z');
		expect(await readSession(store, 'rec-1')).toMatchObject({
			status: 'found',
			record: { head: { zone: 'Europe/Lisbon' }, body: { bpm: Uint8Array.of(148, 149, 150, 151, 152) } },
			edit: { title: 'Pads with the left', effort: 7, note: 'Slept badly.', heat: 'warm' }
		});
		expect(await valueOf(store, 'body/rec-2')).toMatchObject({
			stepMs: Uint32Array.of(0, 70_000),
			bpm: Uint16Array.of(90, 260)
		});
		expect((await listSessions(store)).sessions.map(({ head }) => head.id)).toEqual(['rec-1']);
		expect((await listAthletes(store)).athletes).toMatchObject([{ name: 'Nerea', notes: 'Southpaw.' }]);
		expect((await listPlans(store)).plans).toMatchObject([{ id: 'plan-1', plan: { roundS: 120 } }]);
		expect(await readFuelLog(store, 'ath-1')).toMatchObject({
			weightKg: { '2026-03-01': 61.4, '2026-03-02': 61.1 },
			intakeKcal: { '2026-03-01': 2350 },
			goal: { kg: 60 },
			unreadable: []
		});
	});
});

describe('merging with what is here', () => {
	it('adds what is missing, and leaves what was entered later, taken out later or is the same', async () => {
		const store = freshStore();
		await restored(store, fixture);
		await saveAthlete(store, { id: 'ath-1', name: 'Nerea', thresholdBpm: 180 });
		await logFuel(store, 'weight', 'ath-1', '2026-03-02', undefined);
		await logFuel(store, 'weight', 'ath-1', '2026-03-01', 61.8);
		await logFuel(store, 'weight', 'ath-1', '2026-03-09', 60.5);
		await deletePlan(store, 'plan-1');
		await openJournal(store, 's').finish([makeRecord({ id: 'later' })]);
		await addEdit(store, 'rec-1', { at: '2026-03-09T08:00:00.000Z', title: 'A later title' });
		const plan = await restored(store, fixture);
		expect(counts(plan)).toEqual({
			Sessions: [0, 0, 2],
			Athletes: [0, 0, 2],
			Plans: [0, 0, 1],
			Settings: [0, 0, 6],
			'Weight and food': [0, 0, 4]
		});
		expect(groupOf(plan, 'Athletes').skipped).toContainEqual({
			name: 'Nerea',
			why: 'what is here was entered later, and stays'
		});
		expect(groupOf(plan, 'Plans').skipped).toEqual([
			expect.objectContaining({ why: 'it was taken out here later' })
		]);
		expect((await listAthletes(store)).athletes).toMatchObject([{ thresholdBpm: 180 }]);
		expect((await readFuelLog(store, 'ath-1')).weightKg).toEqual({
			'2026-03-01': 61.8,
			'2026-03-09': 60.5
		});
		const { sessions } = await listSessions(store);
		expect(sessions.map(({ head, edit }) => [head.id, edit.title]).sort()).toEqual([
			['later', undefined],
			['rec-1', 'A later title']
		]);
	});

	it('never changes a session that is here, though the backup says otherwise', async () => {
		const store = freshStore();
		await openJournal(store, 's').finish([makeRecord({ id: 'rec-1', zone: 'Asia/Tokyo' })]);
		const before = await valueOf(store, 'head/rec-1');
		const plan = await restored(store, fixture);
		expect(groupOf(plan, 'Sessions').skipped).toEqual([
			expect.objectContaining({ why: expect.stringMatching(/same id is here/) })
		]);
		expect(await valueOf(store, 'head/rec-1')).toEqual(before);
		expect((await allKeys(store)).filter((key) => key.startsWith('edit/'))).toEqual([]);
	});

	it('brings back a session and an athlete that were deleted here', async () => {
		const store = await fullStore();
		const before = await contents(store);
		const { text } = await wholeBackup(store, now);
		await deleteAthlete(store, 'ath-1', now.getTime());
		expect((await listSessions(store)).sessions).toEqual([]);
		const plan = await restored(store, text);
		expect(groupOf(plan, 'Sessions').changed).toMatchObject([{ why: expect.stringMatching(/comes back/) }]);
		expect((await listSessions(store)).sessions.map(({ head }) => head.id)).toEqual(['rec-1']);
		expect((await listAthletes(store)).athletes.map(({ name }) => name)).toEqual(['Nerea']);
		// What a shared folder would be told is no part of a backup.
		const after = (await contents(store)).filter(([key]) => !key.startsWith('shared/'));
		expect(after).toEqual(before.filter(([key]) => !key.startsWith('shared/')));
	});

	it('deletes nobody and nothing that the backup has as deleted', async () => {
		const store = freshStore();
		await saveAthlete(store, { id: 'ath-2', name: 'Bo' });
		await restored(store, fixture);
		const { sessions } = await listSessions(store);
		await store('readwrite', (objects) => promisifyRequest(objects.delete('tombstone/rec-2')));
		expect(sessions).toHaveLength(1);
		await restored(store, fixture);
		expect((await listSessions(store)).sessions).toHaveLength(2);
		expect((await listAthletes(store)).athletes.map(({ name }) => name)).toEqual(['Bo', 'Nerea']);
	});

	it('leaves a day to bring back what the backup has as deleted, however old it is', async () => {
		const { text } = await wholeBackup(await fullStore(), now);
		const store = freshStore();
		const dayMs = 86_400_000;
		const laterMs = now.getTime() + 40 * dayMs;
		const restoredAgain = async () => (await restored(store, text, laterMs + dayMs / 2)).isIdle;
		await restored(store, text, laterMs);
		expect(await restoredAgain(), 'its day does not begin anew').toBe(true);
		expect(await purgeDeleted(store, dayMs, laterMs + dayMs - 1)).toBe(0);
		await purgeAthletes(store, dayMs, laterMs + dayMs - 1);
		await restoreAthlete(store, 'ath-2');
		await restoreSession(store, 'rec-3');
		expect((await listAthletes(store)).athletes.map(({ name }) => name)).toEqual(['Bo', 'Nerea']);
		expect((await listSessions(store)).sessions.map(({ head }) => head.id).sort()).toEqual([
			'rec-1',
			'rec-2',
			'rec-3'
		]);
	});

	it('makes a damaged session whole and leaves one of a newer form alone', async () => {
		const store = freshStore();
		await restored(store, fixture);
		const body = await valueOf(store, 'body/rec-1');
		await plant(store, 'body/rec-1', { version: 1, firstMs: 'soon' });
		await plant(store, 'head/rec-2', { head: { version: 3, id: 'rec-2' } });
		const plan = await restored(store, fixture);
		expect(groupOf(plan, 'Sessions')).toMatchObject({
			changed: [{ why: expect.stringMatching(/damaged here/) }],
			skipped: [{ why: expect.stringMatching(/newer version/) }]
		});
		expect(await valueOf(store, 'body/rec-1')).toEqual(body);
		expect(await valueOf(store, 'head/rec-2')).toEqual({ head: { version: 3, id: 'rec-2' } });
	});

	it('lets the untouched athlete of the first visit go, and only that one', async () => {
		const store = freshStore();
		await listAthletes(store, () => 'stand-in');
		const plan = await restored(store, fixture);
		expect(groupOf(plan, 'Athletes').changed).toMatchObject([{ name: 'Me' }]);
		expect((await listAthletes(store)).athletes.map(({ name }) => name)).toEqual(['Nerea']);

		const used = freshStore();
		await listAthletes(used, () => 'stand-in');
		await logFuel(used, 'weight', 'stand-in', '2026-03-01', 70);
		await restored(used, fixture);
		expect((await listAthletes(used)).athletes.map(({ name }) => name)).toEqual(['Me', 'Nerea']);
	});
});

describe('all or nothing', () => {
	it('writes nothing before it is told to', async () => {
		const store = freshStore();
		await planned(store, fixture);
		expect(await allKeys(store)).toEqual([]);
	});

	it.each(['QuotaExceededError', null] as const)(
		'leaves everything as it was when the disk gives %s',
		async (fault) => {
			const store = freshStore();
			await saveAthlete(store, { id: 'ath-1', name: 'Before' });
			const before = await contents(store);
			const plan = await planned(store, fixture);
			await expect(restore(abortingStore(store, fault), plan)).rejects.toMatchObject({
				name: 'StoreError',
				code: fault ? 'full' : 'failed'
			});
			expect(await contents(store)).toEqual(before);
		}
	);

	it('asks again where something has changed since the plan was shown', async () => {
		const store = freshStore();
		const plan = await planned(store, fixture);
		await saveAthlete(store, { id: 'ath-1', name: 'Meanwhile' });
		const before = await contents(store);
		expect(await restore(store, plan)).toEqual({
			status: 'refused',
			problem: expect.stringMatching(/has changed since/)
		});
		expect(await contents(store)).toEqual(before);
	});
});

describe('refusing a file', () => {
	const edited = (change: (file: File) => void) => {
		const file = fixtureFile();
		change(file);
		return JSON.stringify(file);
	};
	const replaced = (key: string, value: unknown) =>
		edited(({ entries }) => void (entries.find(([one]) => one === key)![1] = value));
	const without = (key: string) =>
		edited((file) => void (file.entries = file.entries.filter(([one]) => one !== key)));
	const withEntry = (key: string, value: unknown) => edited(({ entries }) => void entries.push([key, value]));
	let nested: unknown = 1;
	for (let i = 0; i < 40; i++) nested = { nested };

	it.each([
		['no JSON', 'id;bpm', /not JSON/],
		['a text cut short', fixture.slice(0, -9), /cut short/],
		['another JSON', '{"entries":[]}', /not a backup/],
		['null', 'null', /not a backup/],
		['a newer backup', edited((file) => void (file.version = 2)), /newer version/],
		['no time', edited((file) => void (file.madeAt = 'yesterday')), /damaged at "madeAt"/],
		['entries that are no list', edited((file) => void (file.entries = {} as never)), /not a list/],
		[
			'an entry that is no pair',
			edited(({ entries }) => void entries.push(['plan/x'] as never)),
			/not a pair/
		],
		['a key twice', withEntry('athlete/ath-1', {}), /there twice/],
		['an unknown kind', withEntry('camp/x', {}), /no entries of this kind/],
		['a kind every object has', withEntry('constructor/x', {}), /no entries of this kind/],
		['a journal', withEntry('journal/x/00000000', []), /one browser alone/],
		[
			'a setting of one browser',
			withEntry('setting/lastBackupAt', '2026-03-05T20:00:00.000Z'),
			/one browser/
		],
		['an id that is none', withEntry('plan/a b', padsPlan), /no proper id/],
		['more key than there is', withEntry('plan/a/b', padsPlan), /not its own/],
		['another athlete’s key', replaced('athlete/ath-1', { id: 'ath-9', name: 'N' }), /not its own/],
		['a day that is none', withEntry('weight/ath-1/today', 61), /not its own/],
		['a weight that is none', replaced('weight/ath-1/2026-03-01', -3), /damaged/],
		['a session of a newer form', replaced('head/rec-1', { head: { version: 7 } }), /newer version/],
		['a session without readings', without('body/rec-1'), /readings of this session are missing/],
		['readings without a session', without('head/rec-2'), /a session that is not there/],
		['a column out of range', fixture.replace('152', '256'), /0 to 255/],
		['columns of unlike lengths', fixture.replace(/,\s*152/, ''), /bpm has 4 entries/],
		['nesting', replaced('plan/plan-1', nested), /more than 12 levels/],
		['a long text', replaced('setting/athlete', 'x'.repeat(200_001)), /longer than 200000/],
		[
			'too many entries',
			edited((file) => void (file.entries = Array(200_001).fill(['plan/x', 1]))),
			/more than 200000 entries/
		],
		['too long a file', fixture.padEnd(200_000_001), /larger than any backup/]
	])('says plainly what is wrong with %s', async (_, text, sentence) => {
		const store = freshStore();
		expect(await planRestore(store, text)).toEqual({
			status: 'refused',
			problem: expect.stringMatching(sentence)
		});
		expect(await allKeys(store)).toEqual([]);
	});

	it('takes no prototype and no unknown member from a file', async () => {
		const planted =
			'"__proto__":{"example":true,"slowingMedicine":true,"polluted":1},"constructor":{"prototype":{"polluted":1}},';
		const file = fixtureFile();
		const laden = file.entries
			.map(([key, value]) => [key, JSON.stringify(value)] as const)
			// A column has one member and no other.
			.map(
				([key, value]) =>
					`["${key}",${key.startsWith('body/') ? value : value.replaceAll('{"', `{${planted}"`)}]`
			);
		const text = `{${planted}"format":"${file.format}","version":1,"madeAt":"${String(file.madeAt)}","entries":[${laden.join()}]}`;
		expect(text.split('__proto__').length).toBeGreaterThan(20);
		const store = freshStore();
		await restored(store, text);
		expect({}).not.toHaveProperty('polluted');
		const plain = freshStore();
		await restored(plain, fixture);
		// Compared after the store of the first was replaced: both databases are still open.
		expect(await contents(store)).toStrictEqual(await contents(plain));
	});

	it('refuses 2,000 mutated backups plainly or reads them whole, and writes nothing meanwhile', async () => {
		const store = await fullStore();
		const before = JSON.stringify(await contents(store));
		const compact = JSON.stringify(fixtureFile());
		let refused = 0;
		await fc.assert(
			fc.asyncProperty(mutation(compact), async (text) => {
				const answer = await planRestore(store, text);
				if (answer.status === 'refused') {
					refused++;
					expect(answer.problem).toMatch(/^[A-Z].{10,600}$/s);
					return;
				}
				// What passed is sound: restored, the lists can read all of it.
				const empty = freshStore();
				expect(await restore(empty, await planned(empty, text))).toEqual({ status: 'restored' });
				const { unreadable } = await listSessions(empty);
				expect([...unreadable, ...(await listAthletes(empty)).unreadable]).toEqual([]);
			}),
			{ numRuns: 2000, seed: 606 }
		);
		expect(JSON.stringify(await contents(store))).toBe(before);
		expect(refused).toBeGreaterThan(1000);
		expect(refused).toBeLessThan(2000);
	}, 120_000);
});

/** A backup's text with some characters replaced, cut, doubled, or a value exchanged for a strange one. */
function mutation(text: string): fc.Arbitrary<string> {
	const at = fc.nat(text.length - 1);
	const strange = fc.constantFrom(
		'null',
		'-1',
		'1e999',
		'"x"',
		'{}',
		'[]',
		'true',
		'[[]]',
		'{"uint8":[300]}',
		'0.5'
	);
	const change = fc.oneof(
		fc.tuple(at, fc.string({ minLength: 1, maxLength: 3 })).map(
			([i, put]) =>
				(old: string) =>
					old.slice(0, i) + put + old.slice(i + put.length)
		),
		fc.tuple(at, fc.nat(40)).map(
			([i, length]) =>
				(old: string) =>
					old.slice(0, i) + old.slice(i + length)
		),
		fc.tuple(at, fc.nat(40)).map(
			([i, length]) =>
				(old: string) =>
					old.slice(0, i + length) + old.slice(i)
		),
		fc.tuple(at, strange).map(([i, put]) => (old: string) => {
			const value = /[:,[](-?\d+(\.\d+)?|"[^"]*"|true)/g;
			value.lastIndex = i;
			const found = value.exec(old);
			return found ? old.slice(0, found.index + 1) + put + old.slice(found.index + found[0].length) : old;
		}),
		fc.tuple(at, fc.integer({ min: 0, max: 9 })).map(
			([i, digit]) =>
				(old: string) =>
					old.slice(0, i) + old.slice(i).replace(/\d/, String(digit))
		)
	);
	return fc
		.array(change, { minLength: 1, maxLength: 3 })
		.map((changes) => changes.reduce((old, one) => one(old), text));
}

describe('the raw export of what cannot be read', () => {
	it('holds all that lies under a session, columns readable', async () => {
		const store = freshStore();
		await openJournal(store, 's').finish([makeRecord({ id: 'rec-1' })]);
		await plant(store, 'head/rec-1', { head: { version: 9, kept: 'as it is' } });
		const raw = JSON.parse(await rawText(store, 'head/rec-1')) as { entries: Pair[] };
		expect(raw.entries).toMatchObject([
			['head/rec-1', { head: { version: 9, kept: 'as it is' } }],
			['body/rec-1', { bpm: { uint8: [148, 149, 150, 151, 152] } }]
		]);
	});

	it('says what an entry is that JSON cannot tell', async () => {
		const store = freshStore();
		const circle: Record<string, unknown> = {};
		circle.itself = circle;
		await plant(store, 'athlete/x', circle);
		await plant(store, 'athlete/y', { big: 5n });
		for (const key of ['athlete/x', 'athlete/y'])
			expect(JSON.parse(await rawText(store, key))).toMatchObject({
				entries: [[key, { whatItIs: '[object Object]' }]]
			});
		expect(JSON.parse(await rawText(store, 'athlete/none'))).toMatchObject({
			entries: [['athlete/none', null]]
		});
	});
});
