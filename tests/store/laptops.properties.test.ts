import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import type { Athlete } from '$lib/record/athlete';
import { asPutRight } from '$lib/record/put-right';
import { summaryOf } from '$lib/review/summary';
import { getAthlete } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import { filesIn } from '$lib/store/folder/door';
import { visitFolder } from '$lib/store/folder/sync';
import { addEdit } from '$lib/store/edits';
import { listPlans } from '$lib/store/plan-list';
import { deleteSession, listSessions, readSession, restoreSession, saveSummary } from '$lib/store/sessions';
import { openJournal } from '$lib/store/journal';
import { doingsOf } from '../record/histories';
import { FakeFolder } from './fake-folder';
import { fourMinutesOf, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';
import { PlanDiary, plansOn } from './plan-diary';

const planAct = fc.record({
	does: fc.constantFrom('plan' as const, 'plan' as const, 'drop plan' as const),
	which: fc.nat(5)
});
const backupAct = fc.record({ does: fc.constantFrom('back up' as const, 'restore' as const) });
const folderAct = fc.record({
	does: fc.constantFrom('visit' as const, 'copy' as const, 'copy half' as const, 'pass on' as const)
});
/** What somebody does on one laptop. */
const anyAct = fc.oneof(
	{
		weight: 3,
		arbitrary: fc.record({ does: fc.constant('threshold' as const), bpm: fc.integer({ min: 140, max: 190 }) })
	},
	{
		weight: 3,
		arbitrary: fc.record({
			does: fc.constant('weigh' as const),
			day: fc.integer({ min: 1, max: 4 }),
			kg: fc.integer({ min: 55, max: 75 })
		})
	},
	fc.record({
		does: fc.constantFrom(
			'caution' as const,
			'strap' as const,
			'box' as const,
			'measure' as const,
			'measure' as const
		)
	}),
	{ weight: 4, arbitrary: planAct },
	fc.record({ does: fc.constant('title' as const), title: fc.constantFrom('Pads', 'Bag', 'Rope') }),
	{
		weight: 3,
		arbitrary: fc.record({ does: fc.constant('tell' as const), bpm: fc.integer({ min: 120, max: 180 }) })
	},
	fc.record({ does: fc.constantFrom('delete' as const, 'undo' as const) }),
	backupAct,
	{ weight: 4, arbitrary: folderAct }
);
const gymOf = <Act>(act: fc.Arbitrary<Act>, mostLaptops: number) =>
	fc.record({
		/** One coach alone draws up plans, on the first laptop. */
		hasOnePlanner: fc.boolean(),
		done: doingsOf(fc.record({ act }), mostLaptops, 40)
	});

/** Two rounds well over any threshold that is told afterwards. */
const recordOf = (id: string) => fourMinutesOf(id, (s) => 150 + (s % 40));

async function cardOn({ store }: Laptop): Promise<Athlete> {
	return (await getAthlete(store, nerea.id)).value!;
}

/** The kept summary is absent, or what is measured afresh of the record as it is put right. */
async function expectTrueSummaries({ store }: Laptop): Promise<void> {
	for (const { head, summary } of (await listSessions(store)).sessions) {
		if (!summary) continue;
		const found = await readSession(store, head.id);
		if (found.status === 'found') expect(summary).toEqual(summaryOf(asPutRight(found.record, found.edit)));
	}
}

type ValueOf<A> = A extends fc.Arbitrary<infer T> ? T : never;
type Gym = ValueOf<ReturnType<typeof gymOf<ValueOf<typeof anyAct>>>>;

/** Plays it, and holds what must be so at every step and in the end. */
async function play({ hasOnePlanner, done: { clocks, steps } }: Gym): Promise<void> {
	const laptops: Laptop[] = [];
	const backups = new Map<Laptop, string>();
	while (laptops.length < clocks.length) laptops.push(await makeLaptop(new FakeFolder(), nerea));
	const thresholds = new Set<number>();
	const days = new Set<string>();
	const diary = new PlanDiary();
	let ms = noonMs;
	let boxed = 1;
	await openJournal(laptops[0]!.store, 'of-s0').finish([recordOf('s0')]);
	for (const step of steps) {
		const { from, act, waitMs } = step;
		const who = hasOnePlanner && 'which' in act ? 0 : step.who;
		ms += waitMs;
		const laptop = laptops[who]!;
		const nowMs = ms + clocks[who]!;
		const { store, folder } = laptop;
		const ids = await laptop.ids();
		const keep = async (change: (card: Athlete) => Athlete) => {
			const card = await cardOn(laptop);
			const kept = await saveAthlete(store, { ...change(card), changedAt: iso(nowMs) }, card);
			return { card, kept: kept! };
		};
		if (act.does === 'threshold') {
			const { kept } = await keep((card) => withThreshold(card, act.bpm, '2026-03-03', 'typed'));
			thresholds.add(act.bpm);
			expect(kept.thresholdBpm, 'a later change takes effect').toBe(act.bpm);
		} else if (act.does === 'weigh') {
			const date = `2026-03-0${act.day}`;
			const { kept } = await keep((card) => withWeight(card, act.kg, date));
			days.add(date);
			expect(kept.weights).toContainEqual({ date, kg: act.kg });
		} else if (act.does === 'plan') await diary.enter(laptop, act.which, nowMs);
		else if (act.does === 'drop plan') await diary.drop(laptop, act.which, nowMs);
		else if (act.does === 'caution') await keep((card) => ({ ...card, slowingMedicine: true }));
		else if (act.does === 'strap') {
			const card = await cardOn(laptop);
			await saveAthlete(store, { ...card, strapName: `Strap ${who}` }, card, nowMs);
		} else if (act.does === 'box') await openJournal(store, `of-s${boxed}`).finish([recordOf(`s${boxed++}`)]);
		else if (act.does === 'title' && ids[0]) {
			await addEdit(store, ids[0], { at: iso(nowMs), title: act.title });
			expect(await readSession(store, ids[0])).toMatchObject({ edit: { title: act.title } });
		} else if (act.does === 'tell' && ids[0])
			await addEdit(store, ids[0], { at: iso(nowMs), told: { thresholdBpm: act.bpm } });
		else if (act.does === 'measure' && ids[0]) {
			const found = await readSession(store, ids[0]);
			if (found.status === 'found')
				await saveSummary(store, ids[0], summaryOf(asPutRight(found.record, found.edit)), found.edit);
		} else if (act.does === 'delete' && ids[0]) await deleteSession(store, ids[0], nowMs);
		else if (act.does === 'undo') await restoreSession(store, `s${boxed - 1}`);
		else if (act.does === 'back up') backups.set(laptop, (await wholeBackup(store, new Date(nowMs))).text);
		else if (act.does === 'restore' && backups.has(laptops[from]!)) {
			const before = await cardOn(laptop);
			const plan = await planRestore(store, backups.get(laptops[from]!)!);
			if (plan.status !== 'ready') throw new Error(plan.problem);
			await restore(store, plan, undefined, nowMs);
			if (laptop === laptops[from]) expect((await cardOn(laptop)).thresholdBpm).toBe(before.thresholdBpm);
		} else if (act.does === 'visit') await visitFolder(store, filesIn(folder.handle), nowMs);
		else if (act.does === 'copy') folder.copyFrom(laptops[from]!.folder);
		else if (act.does === 'pass on') {
			await visitFolder(laptops[from]!.store, filesIn(laptops[from]!.folder.handle), ms + clocks[from]!);
			folder.copyFrom(laptops[from]!.folder);
			await visitFolder(store, filesIn(folder.handle), nowMs);
		} else if (act.does === 'copy half') {
			for (const [name, { text }] of laptops[from]!.folder.files)
				if (!folder.files.has(name)) folder.put(name, text.slice(0, text.length / 2));
		}
		await expectTrueSummaries(laptop);
	}
	// A copier ends what it began, and everybody looks until nothing moves any more.
	for (let round = 0; round < 4; round++)
		for (const [i, laptop] of laptops.entries()) {
			for (const other of laptops)
				for (const [name, { text }] of other.folder.files)
					if ((laptop.folder.files.get(name)?.text.length ?? 0) < text.length) laptop.folder.put(name, text);
			await visitFolder(laptop.store, filesIn(laptop.folder.handle), ms + clocks[i]!);
		}
	const [first, ...others] = laptops as [Laptop, ...Laptop[]];
	const { strapName: _, changedAt: _at, ...card } = await cardOn(first);
	for (const other of others) {
		const { strapName: _, changedAt: _at, ...theirs } = await cardOn(other);
		expect(theirs).toEqual(card);
		expect(await other.ids()).toEqual(await first.ids());
	}
	const { plans } = await listPlans(first.store);
	for (const other of others) expect((await listPlans(other.store)).plans).toEqual(plans);
	expect(new Set(plans.map(({ plan }) => plan.name)).size, 'each is chosen by its name').toBe(plans.length);
	diary.expectKept(await plansOn(first));
	const held = new Set([card.thresholdBpm, ...(card.olderThresholds ?? []).map(({ bpm }) => bpm)]);
	for (const bpm of thresholds) expect(held).toContain(bpm);
	expect((card.weights ?? []).map(({ date }) => date)).toEqual(expect.arrayContaining([...days]));
	for (const laptop of laptops) await expectTrueSummaries(laptop);
}

describe('any number of laptops, with clocks that are wrong by up to a year', () => {
	it('agree in the end, keep what was entered, and are never told an untrue summary', async () => {
		await fc.assert(fc.asyncProperty(gymOf(anyAct, 8), play), { numRuns: 40 });
	}, 240_000);

	it('have the same plans in the end, lose none and bring none back', async () => {
		await fc.assert(fc.asyncProperty(gymOf(fc.oneof(planAct, folderAct, folderAct, backupAct), 4), play), {
			numRuns: 40
		});
	}, 240_000);
});
