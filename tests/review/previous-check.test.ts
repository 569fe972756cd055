import { describe, expect, it } from 'vitest';
import { previousCheckOf } from '$lib/review/previous-check';
import type { KeptSession } from '$lib/review/progress';
import { makeHead } from '../store/builders';
import { makeRound, makeSummary } from './session-builders';

const check = (day: number, tauS: number | undefined, stillS = 180): KeptSession => {
	const last = makeRound(3, 33);
	const still = { ...last.rest!, kind: 'closing' as const, endMs: last.rest!.startMs + stillS * 1000 };
	return {
		head: makeHead({
			id: `check-${day}`,
			startedAt: `2026-03-${String(day).padStart(2, '0')}T18:00:00.000Z`,
			zone: 'Europe/Lisbon',
			practice: false
		}),
		edit: {},
		summary: makeSummary({
			rounds: [makeRound(1, 38.4), { ...last, rest: still }],
			guided: { kind: 'recovery check', tauS, reasons: [] }
		})
	};
};
const other: KeptSession = { ...check(5, 40), summary: makeSummary() };

describe('the check before a check', () => {
	it('is the last one with a recovery speed, in whole seconds and beats', () => {
		const found = previousCheckOf([check(1, 60), check(3, 44.4), check(4, undefined), other], check(9, 42));
		expect(found).toEqual({
			id: 'check-3',
			startedAt: '2026-03-03T18:00:00.000Z',
			zone: 'Europe/Lisbon',
			tauS: 44,
			drops: [38, 33],
			words: 'No clear change: the two differ by no more than the measurement error.'
		});
	});

	it('says faster or slower only beyond the error of 35 % (Buchheit 2014, see yardsticks)', () => {
		const words = (now: number) => previousCheckOf([check(1, 40)], check(9, now))?.words;
		expect(words(50)).toMatch(/^No clear change/);
		// exp(2.57 x sqrt 2 x 0.35) is 3.6: Student's t of five degrees, 97.5 %, for a difference of two.
		expect(words(40 * 4)).toBe('Slower than then, by more than the measurement error.');
		expect(words(40 / 4)).toBe('Faster than then, by more than the measurement error.');
	});

	it('is not compared where the still minutes lasted differently', () => {
		expect(previousCheckOf([check(1, 40, 120)], check(9, 40))?.words).toBe(
			'The still minutes lasted differently, so nothing is compared.'
		);
	});

	it('is none before the first, after it, or beside another kind of session', () => {
		expect(previousCheckOf([], check(9, 40))).toBeUndefined();
		expect(previousCheckOf([check(12, 40)], check(9, 40))).toBeUndefined();
		expect(previousCheckOf([check(1, 40)], other)).toBeUndefined();
	});

	it('is none for a session of the simulated strap, unless it is the example’s', () => {
		const given = check(9, 40);
		const made = (head: Partial<KeptSession['head']>) =>
			previousCheckOf([check(1, 40)], { ...given, head: { ...given.head, ...head } })?.id;
		expect(made({ practice: true })).toBeUndefined();
		expect(made({ practice: true, example: true })).toBe('check-1');
		expect(previousCheckOf([check(1, 40)], { head: given.head, edit: {} })).toBeUndefined();
	});

	it('lies before the moment at which this one began', () => {
		expect(previousCheckOf([check(9, 40)], check(9, 40))).toBeUndefined();
		expect(previousCheckOf([check(8, 40), check(10, 60)], check(9, 40))?.id).toBe('check-8');
	});

	it('is shown and not compared where this one has no recovery speed', () => {
		expect(previousCheckOf([check(1, 40)], check(9, undefined))).toMatchObject({
			tauS: 40,
			words: 'This check has no recovery speed, so nothing is compared.'
		});
	});

	it('has the drops that were measured, in whole beats, and none of a round without', () => {
		const before = check(1, 40);
		const [first, last] = before.summary!.rounds;
		const { rest: _, ...restless } = first!;
		const rounds = [restless, makeRound(2, undefined), makeRound(3, 20.5), last!];
		const session = { ...before, summary: { ...before.summary!, rounds } };
		expect(previousCheckOf([session], check(9, 40))?.drops).toEqual([21, 33]);
	});

	it('is judged by how much the athlete’s own checks scatter, once there are enough of them', () => {
		const words = (before: number[], now: number) =>
			previousCheckOf(
				before.map((tauS, i) => check(i + 1, tauS)),
				check(28, now)
			)?.words;
		const steady = Array.from({ length: 14 }, () => 40);
		const wild = steady.map((_, i) => (i % 2 === 0 ? 160 : 40));
		// One check alone leaves the error at 35 %, beyond which lies what is more than 3.6 times as long.
		expect(words([40], 40 * 3.3)).toMatch(/^No clear change/);
		expect(words(steady, 40 * 3.3)).toMatch(/^Slower than then/);
		expect(words([40], 40 * 4)).toMatch(/^Slower than then/);
		expect(words(wild, 40 * 4)).toMatch(/^No clear change/);
	});
});
