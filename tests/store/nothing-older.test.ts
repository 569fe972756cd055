import { afterEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import { asPutRight } from '$lib/record/put-right';
import type { Athlete } from '$lib/record/athlete';
import { summaryOf } from '$lib/review/summary';
import { gymPlans } from '$lib/rounds/formats';
import { withStrap } from '$lib/session/strap-memory';
import { getAthlete } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import type { UseStore } from '$lib/store/database';
import { SharedFolder } from '$lib/store/folder/shared-folder.svelte';
import { setConsent } from '$lib/store/folder/state';
import { logFuel, readFuelLog } from '$lib/store/fuel';
import { openJournal } from '$lib/store/journal';
import { Preferences } from '$lib/store/preferences.svelte';
import { addEdit } from '$lib/store/edits';
import { listSessions, readSession, saveSummary } from '$lib/store/sessions';
import { FakeFolder } from './fake-folder';
import { freshStore } from './fresh-store';
import { dayMs, fourMinutesOf, iso, makeLaptop, nerea, noonMs } from './laptop';

const cardIn = async (store: UseStore) => (await getAthlete(store, nerea.id)).value!;
async function opened(store: UseStore): Promise<Preferences> {
	const preferences = new Preferences(store, { plan: gymPlans[1]!, bell: defaultBellSettings });
	await preferences.load();
	return preferences;
}
async function restored(store: UseStore, text: string): Promise<void> {
	const plan = await planRestore(store, text);
	if (plan.status !== 'ready') throw new Error(plan.problem);
	await restore(store, plan);
}

afterEach(() => void vi.useRealTimers());

describe('what was entered by hand on a card', () => {
	it('outlives the strap that another laptop remembers by itself', async () => {
		vi.useFakeTimers({ now: noonMs, toFake: ['Date'] });
		const folder = new FakeFolder();
		const card: Athlete = {
			...nerea,
			thresholdBpm: 160,
			strapName: 'Strap A',
			changedAt: iso(noonMs - 3_600_000)
		};
		const one = await makeLaptop(folder, card);
		await one.visit(noonMs - 1000);
		const other = await makeLaptop(folder, nerea);
		await other.visit(noonMs);
		const preferences = await opened(other.store);
		const found = { ...withThreshold(card, 172, '2026-03-03', 'run'), slowingMedicine: true as const };
		await saveAthlete(one.store, { ...found, changedAt: iso(noonMs + 60_000) });
		await one.visit(noonMs + 61_000);
		vi.setSystemTime(noonMs + 86_000_000);
		await preferences.noteStrap(withStrap(preferences.athlete, { strapName: 'Strap B', practice: false })!);
		await other.visit(noonMs + 86_100_000);
		await one.visit(noonMs + 86_200_000);
		for (const { store } of [one, other])
			expect(await cardIn(store)).toMatchObject({ thresholdBpm: 172, slowingMedicine: true });
	});

	it.each([false, true])('is not overwritten at a laptop’s first visit (writing on: %s)', async (isOn) => {
		const folder = new FakeFolder();
		const weights = [{ date: '2026-03-01', kg: 60 }];
		const one = await makeLaptop(folder, {
			...nerea,
			weightKg: 60,
			weights,
			changedAt: iso(noonMs - 10 * dayMs)
		});
		await one.visit(noonMs - 10 * dayMs);
		const other = await makeLaptop(folder);
		const later = [...weights, { date: '2026-03-02', kg: 63 }];
		const card: Athlete = {
			...nerea,
			pregnant: true,
			weightKg: 63,
			weights: later,
			changedAt: iso(noonMs - dayMs)
		};
		await saveAthlete(other.store, card);
		await setConsent(other.store, nerea.id, isOn);
		await other.visit(noonMs);
		expect(await cardIn(other.store)).toMatchObject({ pregnant: true, weightKg: 63, weights: later });
	});

	it('is not rolled back by an old backup, here or on another laptop', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, {
			...nerea,
			weights: [{ date: '2026-03-01', kg: 60 }],
			weightKg: 60,
			changedAt: iso(noonMs)
		});
		const { text } = await wholeBackup(one.store, new Date(noonMs));
		await one.visit(noonMs + 1000);
		const other = await makeLaptop(folder, nerea);
		await other.visit(noonMs + 2000);
		const later = noonMs + 30 * dayMs;
		const changed = withWeight({ ...(await cardIn(other.store)), pregnant: true }, 63, '2026-04-02');
		await saveAthlete(other.store, { ...changed, changedAt: iso(later) });
		await other.visit(later + 1000);
		await one.visit(later + 2000);
		expect(await cardIn(one.store)).toMatchObject({ weightKg: 63, pregnant: true });
		await restored(one.store, text);
		await one.visit(later + 3000);
		await other.visit(later + 4000);
		for (const { store } of [one, other])
			expect(await cardIn(store)).toMatchObject({ weightKg: 63, pregnant: true });
	});

	it('in two tabs that were both open is kept of both', async () => {
		const store = freshStore();
		await saveAthlete(store, {
			...nerea,
			weightKg: 60,
			weights: [{ date: '2026-03-01', kg: 60 }],
			thresholdBpm: 160,
			thresholdDate: '2026-01-01'
		});
		const [one, other] = [await opened(store), await opened(store)];
		const seen = other.athlete;
		await one.setAthlete(withThreshold(withWeight(one.athlete, 61, '2026-03-02'), 165, '2026-03-02', 'run'));
		await other.setAthlete(withThreshold(withWeight(seen, 62, '2026-03-03'), 170, '2026-03-03', 'typed'));
		const card = await cardIn(store);
		expect(card.weights).toContainEqual({ date: '2026-03-02', kg: 61 });
		expect(card).toMatchObject({ thresholdBpm: 170, weightKg: 62 });
		expect(card.olderThresholds?.map(({ bpm }) => bpm)).toEqual(expect.arrayContaining([160, 165]));
	});

	it('on a laptop whose clock was a year ahead once reaches the others after it is right', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		const wrong = noonMs + 365 * dayMs;
		await saveAthlete(one.store, { ...nerea, thresholdBpm: 170, changedAt: iso(wrong) });
		await one.visit(wrong);
		await saveAthlete(one.store, { ...nerea, thresholdBpm: 175, changedAt: iso(noonMs) });
		await one.visit(noonMs + 1000);
		const other = await makeLaptop(folder, nerea);
		expect((await other.visit(noonMs + 2000)).problems).toEqual([]);
		expect(await cardIn(other.store)).toMatchObject({ thresholdBpm: 175 });
	});
});

it('a day’s weight and food are not put back by an older backup, whether changed or taken out since', async () => {
	const store = freshStore();
	await logFuel(store, 'weight', 'ath-1', '2026-03-01', 61);
	await logFuel(store, 'intake', 'ath-1', '2026-03-01', 2000);
	const { text } = await wholeBackup(store, new Date(noonMs));
	await logFuel(store, 'weight', 'ath-1', '2026-03-01', 62);
	await logFuel(store, 'intake', 'ath-1', '2026-03-01', undefined);
	await restored(store, text);
	expect(await readFuelLog(store, 'ath-1')).toMatchObject({ weightKg: { '2026-03-01': 62 }, intakeKcal: {} });
});

describe('the kept summary of a session', () => {
	const record = fourMinutesOf('a', () => 170);
	async function found(store: UseStore) {
		const session = await readSession(store, 'a');
		if (session.status !== 'found') throw new Error(session.problem);
		return session;
	}
	async function measure(store: UseStore) {
		const { record, edit } = await found(store);
		await saveSummary(store, 'a', summaryOf(asPutRight(record, edit)), edit);
	}
	/** Absent, or what is measured of the record as it is put right now. */
	async function expectTrue(store: UseStore) {
		const { record, edit } = await found(store);
		const { summary } = (await listSessions(store)).sessions[0]!;
		expect([undefined, summaryOf(asPutRight(record, edit)).overS]).toContain(summary?.overS);
	}
	const told = { at: iso(noonMs), told: { thresholdBpm: 160 } };

	it('is true after a correction that came through the folder', async () => {
		const folder = new FakeFolder();
		const one = await makeLaptop(folder, nerea);
		await openJournal(one.store, 'x').finish([record]);
		await one.visit();
		const other = await makeLaptop(folder, nerea);
		await other.visit();
		await measure(other.store);
		await addEdit(one.store, 'a', told);
		await one.visit(noonMs + 1000);
		await other.visit(noonMs + 2000);
		await expectTrue(other.store);
		expect((await found(other.store)).edit.told).toEqual(told.told);
	});

	it('is true after a correction that came with a backup', async () => {
		const one = await makeLaptop(new FakeFolder(), nerea);
		await openJournal(one.store, 'x').finish([record]);
		await addEdit(one.store, 'a', told);
		const { text } = await wholeBackup(one.store, new Date(noonMs));
		const other = await makeLaptop(new FakeFolder());
		await openJournal(other.store, 'x').finish([record]);
		await measure(other.store);
		await restored(other.store, text);
		await expectTrue(other.store);
		expect((await found(other.store)).edit.told).toEqual(told.told);
	});

	it('is not one that was measured before a correction and kept after it', async () => {
		const { store } = await makeLaptop(new FakeFolder(), nerea);
		await openJournal(store, 'x').finish([record]);
		const { edit } = await found(store);
		const before = summaryOf(record);
		await addEdit(store, 'a', told);
		await saveSummary(store, 'a', before, edit);
		await expectTrue(store);
	});
});

it('a folder chosen later gets nobody’s data before they are switched on for it', async () => {
	const club = new FakeFolder('club');
	const laptop = await makeLaptop(club, nerea);
	await laptop.box('a');
	let shown = club;
	const folder = new SharedFolder(laptop.store, {
		isFree: () => true,
		door: { pick: async () => shown.handle, mayUse: async () => true, ask: async () => true }
	});
	await folder.load();
	await folder.choose();
	expect(club.names()).toHaveLength(2);
	await folder.leave();
	shown = new FakeFolder('a share of another club');
	await folder.choose();
	expect([...shown.files.keys()]).toEqual([]);
});
