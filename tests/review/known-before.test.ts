import { describe, expect, it } from 'vitest';
import { knownBefore } from '$lib/review/known-before';
import type { KeptSession } from '$lib/review/progress';
import type { Verdict } from '$lib/physiology/recovery';
import { makeHead, padsPlan } from '../store/builders';

const plan = { ...padsPlan, posture: undefined };
const startedAt = (day: number) => new Date(Date.UTC(2026, 2, 1 + day, 18)).toISOString();

/** A session of rests from 176 beats at the bell. */
function session(
	day: number,
	drops: number[],
	edit: KeptSession['edit'] = {},
	verdict: Verdict = 'in the band'
) {
	const head = makeHead({ id: `${day}`, startedAt: startedAt(day), plan });
	const rounds = drops.map((drop60, i) => ({
		round: i + 1,
		attempt: 1,
		startMs: i,
		endMs: i,
		rest: { kind: 'rest' as const, startMs: 0, endMs: 60_000, bellBpm: 176, drop60, verdict, nearEdge: false }
	}));
	const unknown = { reason: 'unknown' };
	const summary = {
		methodsVersion: 1,
		rounds,
		drop60Count: drops.length,
		lengthS: 0,
		workS: 0,
		costs: { energy: unknown, metWorkKJ: unknown, load: unknown, isMaxEstimated: true },
		unusual: [],
		ignoresContact: false
	};
	return { head, edit, summary };
}
const dropsOf = (sessions: KeptSession[], asked: Partial<typeof padsPlan> = {}) =>
	knownBefore(sessions, 'ath-1', { ...plan, ...asked }).rests.map(({ drop60 }) => drop60);

describe('what is known of an athlete at the first bell', () => {
	it('are the judged rests of the sessions of the same activity, oldest first', () => {
		const sessions = [
			session(3, [44]),
			session(2, [30], { activity: 'bag' }),
			session(1, [40, 42]),
			session(0, [20], {}, 'not judged')
		];
		expect(knownBefore(sessions, 'ath-1', plan).rests).toEqual([
			{ bellBpm: 176, drop60: 40 },
			{ bellBpm: 176, drop60: 42 },
			{ bellBpm: 176, drop60: 44 }
		]);
		expect(dropsOf(sessions, { activity: 'bag' })).toEqual([30]);
	});

	it('is of the posture of the plan, or else of the newest of those sessions', () => {
		const sessions = [session(0, [40], { posture: 'sitting' }), session(1, [50], { posture: 'standing' })];
		expect(dropsOf(sessions)).toEqual([50]);
		expect(dropsOf(sessions, { posture: 'sitting' })).toEqual([40]);
	});

	it('has a usual from five such sessions on', () => {
		const days = [40, 42, 38, 45, 39].map((drop, day) => session(day, [drop]));
		// Quantiles of type 7 by hand: 0.4 between 38 and 39; 0.6 between 42 and 45.
		const { usual } = knownBefore(days, 'ath-1', plan);
		expect(usual).toMatchObject({ middle: 40, sessionCount: 5 });
		expect(usual?.low).toBeCloseTo(38.4, 9);
		expect(usual?.high).toBeCloseTo(43.8, 9);
		expect(knownBefore(days.slice(1), 'ath-1', plan).usual).toBeUndefined();
	});

	it('is of the twenty newest alone, and of nobody else', () => {
		const days = Array.from({ length: 25 }, (_, day) => session(day, [30 + day]));
		expect(dropsOf(days)).toEqual(Array.from({ length: 20 }, (_, i) => 35 + i));
		expect(knownBefore(days, 'ath-2', plan)).toEqual({ rests: [] });
	});
});
