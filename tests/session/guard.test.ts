import fc from '../by-chance';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import { waySteps } from '$lib/physiology/way-steps';
import type { Athlete } from '$lib/record/athlete';
import { isCleared } from '$lib/record/blow';
import type { JournalEntry } from '$lib/record/journal';
import { blockedBy } from '$lib/record/way-back';
import { competitionPlans, gymPlans } from '$lib/rounds/formats';
import { recoveryCheckPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import type { Plan } from '$lib/rounds/plan';
import { LiveSession } from '$lib/session/live-session.svelte';
import { whyCornersNotReady } from '$lib/session/readiness';
import { athlete, makeSink, makeStart } from './builders';
import { makeBlock } from '../rounds/plans';
import { silentRinger } from './silent-ringer';

const today = '2026-03-02';
const card: Athlete = { id: 'hurt', name: 'Bao' };
const hurt = { athleteId: card.id, name: card.name };
const contact: readonly Plan[] = [
	competitionPlans[0]!,
	gymPlans.find(({ activity }) => activity === 'pads')!,
	thresholdRunPlan(0),
	recoveryCheckPlan(30),
	// Contact in a later block alone.
	{ ...gymPlans[0]!, blocks: [makeBlock({ activity: 'sparring' })] }
];
const cards = fc
	.record({
		step: fc.constantFrom(...waySteps),
		standDownUntil: fc.constantFrom('2026-02-20', today, '2026-03-03'),
		clearedOn: fc.constantFrom(undefined, '2026-01-31', '2026-02-01', '2026-03-01')
	})
	.map(({ step, standDownUntil, clearedOn }) => ({
		...card,
		blows: [
			{
				day: '2026-02-01',
				step,
				since: '2026-02-10T12:00:00.000Z',
				standDownUntil,
				...(clearedOn && { clearance: { by: 'Dr Aalto', day: clearedOn } })
			}
		]
	}));

async function gym(restricted: Athlete) {
	const live = new LiveSession({
		fetchOutside: () =>
			Promise.resolve({
				ringer: silentRinger,
				openSink: () => makeSink().sink,
				whyBarred: (id, plan) => (id === restricted.id ? blockedBy(restricted, plan, today) : undefined)
			})
	});
	await live.load();
	return live;
}

/** Whether an athlete gets into a session of this plan by any way that the page has. */
async function waysIn(restricted: Athlete, plan: Plan) {
	const ways: Record<string, boolean> = {};
	const seat = { state: 'connected' as const };
	ways.ready = whyCornersNotReady([{ athlete: restricted, seat, isBare: false }], plan, today) === undefined;

	const begun = await gym(restricted);
	await begun.straps.practise('keep clock');
	try {
		begun.begin(plan, [hurt], defaultBellSettings);
	} catch {
		// Refused: the stage tells.
	}
	ways.start = begun.stage === 'running';

	const joined = await gym(restricted);
	await joined.straps.practise('keep clock');
	joined.begin(plan, [athlete], defaultBellSettings);
	const mayJoin = plan.kind === undefined;
	ways.join = mayJoin ? await joined.running!.corners.join(hurt, true) : ways.start;
	expect(joined.running!.view!.corners.length).toBe(mayJoin && ways.join ? 2 : 1);

	const entrant = { recordId: 'r', athlete: hurt, strapName: 'Red strap', practice: true };
	const own = makeStart({ plan, corners: [entrant] });
	const others = makeStart({ plan });
	const join: JournalEntry = { kind: 'join', corner: 1, ms: 1000, entrant };
	for (const [name, start, more] of [
		['going on', own, []],
		['going on after joining', others, [join]]
	] as const) {
		const live = await gym(restricted);
		const why = live.goOn(start, [{ kind: 'start', start }, ...more], defaultBellSettings);
		ways[name] = live.stage === 'running';
		expect(why === undefined).toBe(ways[name]);
	}
	return ways;
}

beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2026-03-02T18:00:00.000Z') }));
afterEach(() => void vi.useRealTimers());

describe('after a blow to the head', () => {
	it('no way leads into contact or a test at full effort without clearance and an end of the stand-down', async () => {
		await fc.assert(
			fc.asyncProperty(cards, fc.constantFrom(...contact), async (restricted, plan) => {
				const ways = await waysIn(restricted, plan);
				const isOpen = blockedBy(restricted, plan, today) === undefined;
				for (const [way, isIn] of Object.entries(ways)) expect([way, isIn]).toEqual([way, isOpen]);
				const [blow] = restricted.blows;
				if (isOpen) expect(isCleared(blow!) && blow!.standDownUntil <= today).toBe(true);
			}),
			{ seed: 21, numRuns: 40 }
		);
	});

	it('no block of contact is added while somebody is there who is held back, nor gone on with', async () => {
		const block = makeBlock({ activity: 'sparring' });
		const blow = { day: '2026-02-01', step: '3' as const, since: '2026-02-10T12:00:00.000Z' };
		const live = await gym({ ...card, blows: [blow] });
		await live.straps.practise('keep clock');
		live.begin(gymPlans[0]!, [hurt], defaultBellSettings);
		expect(live.running!.addBlock(block)).toMatch(/^Restricted today/);
		expect(live.running!.view!.blocks).toHaveLength(1);
		expect(live.running!.addBlock(makeBlock({ activity: 'skipping' }))).toBeUndefined();
		expect(live.running!.view!.blocks).toHaveLength(2);

		const entrant = { recordId: 'r', athlete: hurt, strapName: 'Red strap', practice: true };
		const start = makeStart({ plan: gymPlans[0]!, corners: [entrant] });
		const added: JournalEntry = { kind: 'amendment', amendment: { kind: 'add block', atMs: 1000, block } };
		const later = await gym({ ...card, blows: [blow] });
		expect(later.goOn(start, [{ kind: 'start', start }, added], defaultBellSettings)).toMatch(/^Restricted/);
		expect(later.stage).toBe('setting up');
	});

	it('whoever is back in competition gets in by every way, and whoever is held back to the bag alone', async () => {
		const blow = { day: '2026-02-01', step: '6' as const, since: '2026-02-10T12:00:00.000Z' };
		const back = { ...card, blows: [{ ...blow, clearance: { by: 'Dr Aalto', day: '2026-02-20' } }] };
		expect(Object.values(await waysIn(back, competitionPlans[0]!))).not.toContain(false);
		expect(Object.values(await waysIn({ ...card, blows: [blow] }, competitionPlans[0]!))).not.toContain(true);
		expect(Object.values(await waysIn({ ...card, blows: [blow] }, gymPlans[0]!))).not.toContain(false);
	});
});
