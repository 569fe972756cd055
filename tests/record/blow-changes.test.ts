import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import { heldForOlderPages, isCleared, type Blow } from '$lib/record/blow';
import {
	bareCard,
	blowProblem,
	heldTo,
	strictest,
	strictestLock,
	withBlow,
	withoutBlow,
	withStop
} from '$lib/record/blow-changes';
import type { Lock } from '$lib/record/lock';

const since = '2026-03-02T18:00:00.000Z';
const later = '2026-03-04T18:00:00.000Z';
const day = '2026-03-01';
const today = '2026-03-20';
const blow: Blow = { day, step: '3', since };
const doctor = { by: 'Dr Aalto', day: '2026-03-10' };
const nerea: Athlete = { id: 'a', name: 'Nerea' };
const days = ({ blows = [] }: Athlete) => blows.map((one) => one.day);

describe('words on one blow that were said unaware of each other', () => {
	it('come to the strictest of each part', () => {
		const others: Blow[] = [
			{ day, step: '2A', since, standDownUntil: '2026-03-08', daysPerStep: 2 },
			{ day, step: '2A', since: later, standDownUntil: '2026-03-15', daysPerStep: 1, clearance: doctor }
		];
		expect(strictest([{ ...blow, clearance: doctor, daysPerStep: 5 }, ...others])).toEqual({
			...{ day, step: '2A', since: later },
			...{ standDownUntil: '2026-03-15', daysPerStep: 5 }
		});
	});

	it('are cleared where all are, by the earlier doctor, and say nothing that nobody has said', () => {
		const earlier = { by: 'Dr Berg', day: '2026-03-09' };
		const [one, other] = [
			{ ...blow, clearance: doctor },
			{ ...blow, clearance: earlier }
		];
		expect(strictest([one, other])).toEqual({ ...blow, clearance: earlier });
		expect(strictest([other, one])).toEqual({ ...blow, clearance: earlier });
		expect(strictest([blow])).toEqual(blow);
	});

	it('are as strict where only the locks are known', () => {
		const lock: Lock = { day, step: '4', isCleared: true };
		expect(strictestLock([lock, { day, step: '3', standDownUntil: '2026-03-08' }])).toEqual({
			...{ day, step: '3', standDownUntil: '2026-03-08' }
		});
		expect(strictestLock([lock, { ...lock, step: '5' }])).toEqual(lock);
		expect(heldTo({ ...blow, step: '5', clearance: doctor }, lock)).toEqual({
			...blow,
			step: '4',
			clearance: doctor
		});
		expect(heldTo({ ...blow, clearance: doctor }, { day, step: '6', standDownUntil: '2026-03-08' })).toEqual({
			...blow,
			standDownUntil: '2026-03-08'
		});
	});
});

describe('the blows of a card', () => {
	const second = { ...blow, day: '2026-03-05' };

	it('stand by day, one for each, and may be moved to another day', () => {
		const both = withBlow(withBlow(nerea, second, today), blow, today);
		expect(days(both)).toEqual([day, second.day]);
		expect(days(withBlow(both, { ...blow, step: '2A' }, today))).toEqual([day, second.day]);
		expect(days(withBlow(both, { ...blow, day: '2026-03-07' }, today, day))).toEqual([
			second.day,
			'2026-03-07'
		]);
		expect(days(withoutBlow(both, day))).toEqual([second.day]);
		expect(withoutBlow(withoutBlow(both, day), second.day)).toEqual(nerea);
	});

	it('take a later day without sparring for the stand-down, and the lock of their day', () => {
		expect(withBlow({ ...nerea, noSparringUntil: '2026-04-01' }, blow, today).blows).toEqual([
			{ ...blow, standDownUntil: '2026-04-01' }
		]);
		expect(
			withBlow({ ...nerea, noSparringUntil: '2026-03-10' }, { ...blow, standDownUntil: '2026-03-12' }, today)
				.blows
		).toEqual([{ ...blow, standDownUntil: '2026-03-12' }]);
		const locked: Athlete = {
			...nerea,
			locks: [
				{ day, step: '2B' },
				{ day: second.day, step: '1' }
			]
		};
		const told = withBlow(locked, blow, today);
		expect(told.blows).toEqual([{ ...blow, step: '2B' }]);
		expect(told.locks).toEqual([{ day: second.day, step: '1' }]);
	});

	it('are told to nobody but as locks by day, and are kept for older pages as a day never to come', () => {
		const card: Athlete = { ...nerea, blows: [second], locks: [{ day, step: '1' }] };
		expect(bareCard(card)).toEqual({
			...nerea,
			locks: [
				{ day, step: '1' },
				{ day: second.day, step: '3' }
			]
		});
		expect(bareCard(nerea)).toEqual(nerea);
		expect(withStop(card).noSparringUntil).toBe(heldForOlderPages);
		const behind: Athlete = { ...nerea, blows: [{ ...blow, step: '6', clearance: doctor }] };
		expect(withStop({ ...behind, noSparringUntil: heldForOlderPages })).toEqual(behind);
	});
});

describe('a blow that somebody enters', () => {
	const nowMs = Date.parse('2026-03-20T12:00:00.000Z');
	const problem = (more: Partial<Blow>) => blowProblem({ ...blow, ...more }, today, nowMs);

	it('may be of today, set this very moment, stood down for no day and cleared on the day itself', () => {
		expect(problem({})).toBeUndefined();
		expect(problem({ day: today, since: new Date(nowMs).toISOString() })).toBeUndefined();
		expect(problem({ standDownUntil: day })).toBeUndefined();
		expect(problem({ clearance: { ...doctor, day } })).toBeUndefined();
		expect(problem({ clearance: { ...doctor, day: today } })).toBeUndefined();
		// The day here may have begun before that in UTC, but not a whole day before.
		expect(problem({ since: '2026-02-28T00:00:00.000Z' })).toBeUndefined();
	});

	it.each<[RegExp, Partial<Blow>]>([
		[/lies ahead\. Enter the day on which it happened/, { day: '2026-03-21' }],
		[/stand-down ends before the blow/, { standDownUntil: '2026-02-28' }],
		[/step began before the blow/, { since: '2026-02-27T23:59:59.999Z' }],
		[/step begins in the future/, { since: '2026-03-20T12:00:00.001Z' }],
		[/Enter the doctor/, { clearance: { by: ' ', day } }],
		[/clearance was given before the blow/, { clearance: { ...doctor, day: '2026-02-28' } }],
		[/clearance lies ahead/, { clearance: { ...doctor, day: '2026-03-21' } }]
	])('is refused: %s', (words, more) => expect(problem(more)).toMatch(words));

	it('is cleared from its own day on', () => {
		expect(isCleared({ ...blow, clearance: { ...doctor, day } })).toBe(true);
		expect(isCleared({ ...blow, clearance: { ...doctor, day: '2026-02-28' } })).toBe(false);
		expect(isCleared(blow)).toBe(false);
	});
});
