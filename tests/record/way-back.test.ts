import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { waySteps } from '$lib/physiology/way-steps';
import type { Athlete } from '$lib/record/athlete';
import { heldForOlderPages, lockOf, type Blow } from '$lib/record/blow';
import { openStep, type Lock } from '$lib/record/lock';
import { bareCard, blowProblem, whyNotStep } from '$lib/record/blow-changes';
import { mergedCard } from '$lib/record/merged-card';
import { blockedBy, restrictionOf } from '$lib/record/way-back';
import { withBlow, withoutBlow, withoutStop, withStop } from '$lib/record/blow-changes';
import { competitionPlans, gymPlans } from '$lib/rounds/formats';
import { recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { plannedActivities, planKinds } from '$lib/rounds/plan';
import { anyDay, blowOn } from './blows';

const nerea: Athlete = { id: 'a', name: 'Nerea' };
const hourMs = 3_600_000;
const setAt = '2026-03-02T18:00:00.000Z';
const setMs = Date.parse(setAt);
const blow: Blow = { day: '2026-03-01', step: '1', since: setAt };
const cleared = { by: 'Dr Aalto', day: '2026-03-09' };
const hurt = (overrides: Partial<Blow> = {}): Athlete => ({ ...nerea, blows: [{ ...blow, ...overrides }] });
const today = '2026-03-10';

/** The plans that wait for each step. Everything else is free. */
const waiting = {
	'4': [gymPlans.find(({ activity }) => activity === 'pads')!, thresholdRunPlan(600), recoveryCheckPlan(30)],
	'5': [...competitionPlans],
	'6': [{ activity: 'bout' as const }]
};

describe('what is open after a blow to the head', () => {
	const table = waySteps.flatMap((step) =>
		[true, false].flatMap((isCleared) => [true, false].map((isOver) => [step, isCleared, isOver] as const))
	);
	// Steps, clearance before 4: Amsterdam 2022 (Patricios et al. 2023). The stand-down is the officials' own.
	it.each(table)('at step %s, cleared %s, stand-down over %s', (step, isCleared, isOver) => {
		const athlete = hurt({
			step,
			standDownUntil: isOver ? today : '2026-03-11',
			...(isCleared && { clearance: cleared })
		});
		for (const [needed, plans] of Object.entries(waiting)) {
			const isOpen = isCleared && isOver && Number.parseInt(step) >= Number(needed);
			for (const card of [athlete, bareCard(athlete)])
				for (const plan of plans) expect(blockedBy(card, plan, today) === undefined).toBe(isOpen);
		}
		for (const plan of [gymPlans[0]!, restingPlan('lying')])
			expect(blockedBy(athlete, plan, today)).toBeUndefined();
	});

	it('is not opened by any later day', () => {
		for (const day of ['2026-03-11', '2027-01-01', '2099-12-31'])
			expect(blockedBy(hurt({ step: '6' }), competitionPlans[0]!, day)).toBeDefined();
	});

	it('is not opened by a clearance from before the blow, nor by that of another blow', () => {
		const early = hurt({ step: '6', clearance: { ...cleared, day: '2026-02-28' } });
		expect(blockedBy(early, competitionPlans[0]!, today)).toBeDefined();
		const twice: Athlete = {
			...nerea,
			blows: [
				{ ...blow, day: '2026-01-01', step: '6', clearance: { by: 'Dr Aalto', day: '2026-01-20' } },
				{ ...blow, step: '6' }
			]
		};
		expect(blockedBy(twice, competitionPlans[0]!, today)).toBeDefined();
	});

	it('tells a coach’s screen nothing but that it is restricted', () => {
		const said = blockedBy(hurt(), competitionPlans[0]!, today);
		expect(said).toMatch(/^Restricted/);
		expect(said).not.toMatch(/head|blow|doctor|step|clear/i);
	});
});

describe('a lock whose reason has stayed on another laptop', () => {
	const lock: Lock = { day: blow.day, step: '2A', standDownUntil: '2026-03-20' };

	it('holds to its step by no other words, beside any blow that is known', () => {
		expect(restrictionOf({ ...nerea, locks: [lock] }, today)).toEqual({ step: '2A', why: 'lock' });
		const both = { ...hurt({ step: '1' }), locks: [{ ...lock, day: '2026-02-01' }] };
		expect(restrictionOf(both, today)).toEqual({ step: '1', why: 'blow' });
		const over = hurt({ step: '6', clearance: cleared });
		expect(restrictionOf({ ...over, locks: both.locks }, today)).toEqual({ step: '2A', why: 'lock' });
		expect(blockedBy({ ...nerea, locks: [lock] }, competitionPlans[0]!, today)).toBe(
			blockedBy(hurt(), competitionPlans[0]!, today)
		);
	});

	it('locks older pages by a day never to come, until it is open to its end', () => {
		expect(withStop({ ...nerea, locks: [lock] }).noSparringUntil).toBe(heldForOlderPages);
		const over: Athlete = {
			...nerea,
			noSparringUntil: heldForOlderPages,
			locks: [{ ...lock, step: '6', isCleared: true }]
		};
		expect(withStop(over).noSparringUntil).toBeUndefined();
		expect(restrictionOf(over, '2026-03-20')).toBeUndefined();
	});

	it('stays when a blow of another day is entered, corrected or taken away', () => {
		const card = withBlow({ ...nerea, locks: [lock] }, { ...blow, day: '2026-02-01' }, today);
		expect(card.locks).toEqual([lock]);
		expect(withoutBlow(card, '2026-02-01')).toMatchObject({
			locks: [lock],
			noSparringUntil: heldForOlderPages
		});
	});
});

describe('a day without sparring from an earlier page', () => {
	it('locks while it lies ahead, and is asked about once when it is over', () => {
		const old = { ...nerea, noSparringUntil: '2026-03-20' };
		expect(restrictionOf(old, today)).toMatchObject({ why: 'stop ahead' });
		expect(restrictionOf(old, '2026-03-20')).toMatchObject({ why: 'stop over' });
		for (const day of [today, '2026-03-20', '2027-01-01'])
			expect(blockedBy(old, competitionPlans[0]!, day)).toBeDefined();
		expect(blockedBy(withoutStop(old), competitionPlans[0]!, today)).toBeUndefined();
	});

	it('becomes the stand-down of the blow that is entered', () => {
		const card = withBlow({ ...nerea, noSparringUntil: '2026-03-20' }, blow, today);
		expect(card.blows).toEqual([{ ...blow, standDownUntil: '2026-03-20' }]);
	});

	it('is written for older pages while a blow locks, and goes with the lock', () => {
		const locked = withBlow(nerea, blow, today);
		expect(locked.noSparringUntil).toBe(heldForOlderPages);
		const over = withBlow(locked, { ...blow, step: '6', clearance: cleared }, today);
		expect(over.noSparringUntil).toBeUndefined();
		expect(restrictionOf(over, today)).toBeUndefined();
		expect(withoutBlow(locked, blow.day)).toEqual(nerea);
	});
});

describe('a step that is set', () => {
	const at = (hours: number, isAdult = true) => ({ nowMs: setMs + hours * hourMs, today, isAdult });

	it('is held for 24 hours, and the next one alone follows', () => {
		expect(whyNotStep(blow, '2A', at(23.9))).toContain('24 hours');
		expect(whyNotStep(blow, '2A', at(24))).toBeUndefined();
		expect(whyNotStep(blow, '2B', at(100))).toContain('one after the other');
		expect(whyNotStep({ ...blow, step: '3' }, '1', at(0))).toBeUndefined();
	});

	it('lasts as long as the federation says, which under 18 has to be entered', () => {
		expect(whyNotStep({ ...blow, daysPerStep: 2 }, '2A', at(47.9))).toContain('2 days');
		expect(whyNotStep({ ...blow, daysPerStep: 2 }, '2A', at(48))).toBeUndefined();
		expect(whyNotStep(blow, '2A', at(1000, false))).toContain('Under 18');
		expect(whyNotStep({ ...blow, daysPerStep: 2 }, '2A', at(48, false))).toBeUndefined();
	});

	it('goes beyond 3 with a clearance after the stand-down, and from there singly', () => {
		const third: Blow = { ...blow, step: '3' };
		expect(whyNotStep(third, '4', at(100))).toContain('clearance');
		expect(
			whyNotStep({ ...third, clearance: cleared, standDownUntil: '2026-03-11' }, '4', at(100))
		).toContain('stand-down');
		const open = { ...third, clearance: cleared };
		expect(whyNotStep(open, '4', at(100))).toBeUndefined();
		expect(whyNotStep(open, '5', at(100))).toContain('one after the other');
		expect(whyNotStep({ ...open, step: '5' }, '6', at(23))).toContain('24 hours');
		expect(whyNotStep({ ...open, step: '5' }, '6', at(24))).toBeUndefined();
	});

	it('falls back where the clearance is taken away', () => {
		const card = withBlow(nerea, { ...blow, step: '5' }, today);
		expect(card.blows![0]!.step).toBe('3');
	});
});

describe('a blow that is entered', () => {
	it.each([
		[{ day: '2026-03-11' }, /lies ahead/],
		[{ standDownUntil: '2026-02-20' }, /ends before the blow/],
		[{ clearance: { by: 'Dr Aalto', day: '2026-02-28' } }, /before the blow/],
		[{ clearance: { by: 'Dr Aalto', day: '2026-03-12' } }, /clearance lies ahead/],
		[{ clearance: { by: ' ', day: '2026-03-05' } }, /Enter the doctor/],
		[{ since: '2026-02-20T10:00:00.000Z' }, /before the blow/],
		[{ since: '2026-03-20T10:00:00.000Z' }, /future/]
	])('%j is refused in words', (overrides, words) => {
		const nowMs = Date.parse('2026-03-10T12:00:00.000Z');
		expect(blowProblem({ ...blow, ...overrides }, today, nowMs)).toMatch(words);
		expect(blowProblem({ ...blow, clearance: cleared }, today, nowMs)).toBeUndefined();
	});
});

const anyBlow = blowOn(anyDay);

describe('any card with blows', () => {
	it('opens no contact and no test at full effort without a clearance after each blow, by whatever way', () => {
		const contact = fc.constantFrom(
			...Object.values(waiting).flat(),
			...plannedActivities
				.filter((activity) => activity === 'sparring' || activity === 'pads')
				.flatMap((activity) => [{ activity }, ...planKinds.map((kind) => ({ activity, kind }))])
		);
		fc.assert(
			fc.property(
				fc.uniqueArray(anyBlow, { minLength: 1, maxLength: 3, selector: ({ day }) => day }),
				fc.option(anyDay),
				contact,
				anyDay,
				fc.array(anyBlow, { maxLength: 2 }),
				fc.boolean(),
				(blows, stop, plan, now, more, isBare) => {
					let card: Athlete = { ...nerea, blows, ...(stop && { noSparringUntil: stop }) };
					const told = new Set(blows.map(({ day }) => day));
					// What else may be done to a card, on this laptop or on one that knows the locks alone.
					for (const one of more) {
						if (isBare) card = bareCard(card);
						card = mergedCard(withBlow(card, one, now), { ...bareCard(card), id: 'b' });
						told.add(one.day);
					}
					if (blockedBy(card, plan, now) !== undefined) return;
					for (const { day, isCleared, standDownUntil } of [
						...(card.blows ?? []).map(lockOf),
						...(card.locks ?? [])
					]) {
						expect(isCleared).toBe(true);
						expect(standDownUntil === undefined || standDownUntil <= now).toBe(true);
						told.delete(day);
					}
					expect([...told]).toEqual([]);
				}
			),
			{ seed: 21, numRuns: 2000 }
		);
	});

	it('has a step open without clearance no further than 3', () => {
		fc.assert(
			fc.property(anyBlow, anyDay, (one, now) => {
				const isOpen = !['1', '2A', '2B', '3'].includes(openStep(lockOf(one), now));
				expect(!isOpen || (one.clearance !== undefined && one.clearance.day >= one.day)).toBe(true);
			}),
			{ seed: 21 }
		);
	});
});
