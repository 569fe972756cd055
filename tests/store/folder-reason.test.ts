import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { Blow } from '$lib/record/blow';
import { withBlow, withoutBlow } from '$lib/record/blow-changes';
import { restrictionOf } from '$lib/record/way-back';
import { getAthlete } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from './whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import { keepHandle, setConsent, setReasonConsent } from '$lib/store/folder/state';
import { holdings } from '$lib/store/folder/report';
import { write } from '$lib/store/database';
import { machineIn } from '$lib/store/machine';
import { blowOn } from '../record/blows';
import { FakeFolder } from './fake-folder';
import { dayMs, iso, makeLaptop, nerea, noonMs, type Laptop } from './laptop';

const today = '2026-03-03';
const blow: Blow = {
	day: '2026-03-01',
	step: '2A',
	since: iso(noonMs - dayMs),
	standDownUntil: '2026-03-20',
	clearance: { by: 'Dr Aalto', day: '2026-03-02' }
};

const cardOn = async ({ store }: Laptop) => (await getAthlete(store, nerea.id)).value!;
async function change(laptop: Laptop, how: (card: Athlete) => Athlete, atMs: number) {
	const card = await cardOn(laptop);
	await saveAthlete(laptop.store, { ...how(card), changedAt: iso(atMs) }, card);
}
const enter = (laptop: Laptop, told: Blow, atMs: number) =>
	change(laptop, (card) => withBlow(card, told, today), atMs);
/** Everything that lies in a folder, as one text. */
const textIn = ({ files }: FakeFolder) => Array.from(files, ([name, { text }]) => name + text).join('\n');
const reason = /Aalto|blow/i;

async function three(folder: FakeFolder) {
	const laptops: Laptop[] = [];
	for (let i = 0; i < 3; i++)
		laptops.push(await makeLaptop(folder, { ...nerea, changedAt: iso(noonMs - dayMs) }));
	return laptops as [Laptop, Laptop, Laptop];
}
async function settle(laptops: readonly Laptop[], fromMs: number) {
	for (let round = 0; round < 3; round++) for (const laptop of laptops) await laptop.visit(fromMs + round);
}

describe('why somebody is held back after a blow to the head', () => {
	it('stays here until it is switched on, and the lock goes along', async () => {
		const folder = new FakeFolder();
		const laptops = await three(folder);
		const [home, away] = laptops;
		await enter(home, blow, noonMs);
		await settle(laptops, noonMs + 10);
		expect(textIn(folder)).not.toMatch(reason);
		expect(await cardOn(home)).toMatchObject({ blows: [blow] });
		expect(await cardOn(away)).toMatchObject({
			locks: [{ day: blow.day, step: '2A', standDownUntil: '2026-03-20', isCleared: true }]
		});
		await setReasonConsent(home.store, nerea.id, true);
		await settle(laptops, noonMs + 20);
		expect(await cardOn(away)).toMatchObject({ blows: [blow] });
		expect(await cardOn(away)).not.toHaveProperty('locks');
	});

	it('goes out of the folder when it is switched off, and with whoever agreed to be written at all', async () => {
		for (const stop of [setReasonConsent, setConsent]) {
			const folder = new FakeFolder();
			const [home] = await three(folder);
			await setReasonConsent(home.store, nerea.id, true);
			await enter(home, blow, noonMs);
			await home.visit(noonMs + 10);
			expect(textIn(folder)).toMatch(reason);
			await stop(home.store, nerea.id, false);
			await setConsent(home.store, nerea.id, true);
			await home.visit(noonMs + 20);
			expect(textIn(folder)).not.toMatch(reason);
			expect(folder.names()).toHaveLength(1);
		}
	});

	it('is forgotten with the folder', async () => {
		const folder = new FakeFolder();
		const [home] = await three(folder);
		await enter(home, blow, noonMs);
		await setReasonConsent(home.store, nerea.id, true);
		await keepHandle(home.store, undefined);
		await setConsent(home.store, nerea.id, true);
		await home.visit(noonMs + 10);
		expect(textIn(folder)).toMatch(/"locks"/);
		expect(textIn(folder)).not.toMatch(reason);
	});

	it('is opened by no backup from before it, and comes along with one of the owner', async () => {
		const folder = new FakeFolder();
		const laptops = await three(folder);
		const [home, away] = laptops;
		const before = (await wholeBackup(away.store, new Date(noonMs))).text;
		await enter(home, blow, noonMs);
		await settle(laptops, noonMs + 10);
		const bring = async (text: string) => {
			const plan = await planRestore(away.store, text);
			if (plan.status !== 'ready') throw new Error(plan.problem);
			await restore(away.store, plan, undefined, noonMs + 20);
		};
		await bring(before);
		expect(restrictionOf(await cardOn(away), today)).toEqual({ step: '2A', why: 'lock' });
		await bring((await wholeBackup(home.store, new Date(noonMs))).text);
		expect(await cardOn(away)).toMatchObject({ blows: [blow] });
		expect(await cardOn(away)).not.toHaveProperty('locks');
		// Known there, it is still not told from there.
		await settle(laptops, noonMs + 30);
		expect(textIn(folder)).not.toMatch(reason);
	});

	it('leaves nothing to write once all have read, whoever tells it and whoever does not', async () => {
		const folder = new FakeFolder();
		const laptops = await three(folder);
		for (const { store } of laptops.slice(1)) await setReasonConsent(store, nerea.id, true);
		await enter(laptops[1], blow, noonMs);
		await settle(laptops, noonMs + 10);
		await change(laptops[0], (card) => ({ ...card, notes: 'left hand' }), noonMs + 20);
		await settle(laptops, noonMs + 30);
		const names = [...folder.files.keys()].sort();
		await settle(laptops, noonMs + 40);
		expect([...folder.files.keys()].sort()).toEqual(names);
		for (const laptop of laptops) expect((await laptop.visit(noonMs + 50)).wentOut.cards).toBe(0);
	});

	it('is asked about where there is something to tell', async () => {
		const [home, away] = await three(new FakeFolder());
		const told = async ({ store }: Laptop) => (await holdings(store))[0]!.tellsReason;
		expect(await told(home)).toBeUndefined();
		await enter(home, blow, noonMs);
		expect(await told(home)).toBe(false);
		await setReasonConsent(home.store, nerea.id, true);
		expect(await told(home)).toBe(true);
		await home.visit(noonMs + 10);
		await setReasonConsent(home.store, nerea.id, false);
		await away.visit(noonMs + 20);
		expect(await told(away)).toBe(false);
	});
});

describe('three laptops with any blows, of which each tells the reason or does not', () => {
	const who = fc.nat(2);
	const steps = fc.array(
		fc.oneof(
			fc.record({
				does: fc.constant('enter' as const),
				who,
				told: blowOn(fc.constantFrom('2026-02-20', '2026-03-01'))
			}),
			fc.record({ does: fc.constantFrom('take away' as const, 'weigh' as const), who }),
			fc.record({ does: fc.constant('agree' as const), who, given: fc.boolean() }),
			fc.record({ does: fc.constant('visit' as const), who })
		),
		{ maxLength: 14 }
	);

	it('lock alike in the end, and those that do not tell it have told it in no file', async () => {
		await fc.assert(
			fc.asyncProperty(steps, async (all) => {
				const folder = new FakeFolder();
				const laptops = await three(folder);
				const isTold = [false, false, false];
				let nowMs = noonMs;
				for (const step of all) {
					nowMs += 10;
					const laptop = laptops[step.who]!;
					if (step.does === 'enter') await enter(laptop, step.told, nowMs);
					else if (step.does === 'take away')
						await change(laptop, (card) => withoutBlow(card, '2026-03-01'), nowMs);
					else if (step.does === 'weigh')
						await change(laptop, (card) => ({ ...card, weightKg: 60 + (nowMs % 7) }), nowMs);
					else if (step.does === 'agree') {
						isTold[step.who] = step.given;
						await setReasonConsent(laptop.store, nerea.id, step.given);
					} else await laptop.visit(nowMs);
				}
				await settle(laptops, nowMs + 10);
				const names = [...folder.files.keys()].sort();
				await settle(laptops, nowMs + 20);
				expect([...folder.files.keys()].sort(), 'nothing is left to write').toEqual(names);
				const cards = await Promise.all(laptops.map(cardOn));
				for (const card of cards)
					for (const day of ['2026-02-20', today, '2026-03-30'])
						expect(restrictionOf(card, day)?.step).toBe(restrictionOf(cards[0]!, day)?.step);
				for (const [i, { store }] of laptops.entries()) {
					if (isTold[i]) continue;
					const me = await write(store, machineIn);
					for (const [name, { text }] of folder.files)
						if (name.includes(`.${me}.`)) expect(text).not.toMatch(reason);
				}
			}),
			{ seed: 21, numRuns: 60 }
		);
	}, 60_000);
});
