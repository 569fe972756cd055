import type { Amendment } from '$lib/rounds/amendment';
import { checkPlan } from '$lib/rounds/check-plan';
import type { Plan } from '$lib/rounds/plan';
import { accepts, timelineOf } from '$lib/rounds/timeline';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, anyAmendments, anyPlan, makePlan, told } from './plans';

const plan = makePlan({ roundCount: 2, roundS: 60, restS: 90, restDownToPercent: 75 });

describe('a rest by heart', () => {
	it('lasts as long as the longest rest where no heart comes down', () => {
		expect(told(timelineOf(plan))).toEqual([
			'work 1 0-60',
			'rest 1 60-150',
			'work 2 150-210',
			'closing 2 210-270'
		]);
	});

	// The bell follows ten seconds after the share is reached, and no rest is shorter than thirty seconds.
	it.each([
		[3, 30],
		[19.999, 30],
		[20, 30],
		[20.5, 30.5],
		[47, 57],
		[79, 89]
	])('whose share is reached at %s s has its bell at %s s', (reachedS, bellS) => {
		const [, rest, next] = timelineOf(plan, [{ kind: 'rest over', atMs: 60_000 + reachedS * 1000 }]);
		expect(rest).toMatchObject({ startMs: 60_000, endMs: 60_000 + bellS * 1000, settled: 'by heart' });
		expect(next).toMatchObject({ kind: 'work', round: 2, startMs: rest!.endMs });
	});

	it('is not brought forward in its last ten seconds, in work, in the closing minute, or in a plan of other rests', () => {
		const at = (kind: Amendment['kind'], s: number) => accepts(plan, [], kind, s * 1000);
		expect(at('rest over', 139)).toBe(true);
		expect([140, 145, 30, 220].map((s) => at('rest over', s))).toEqual([false, false, false, false]);
		expect(accepts(makePlan({ roundS: 60, restS: 90 }), [], 'rest over', 100_000)).toBe(false);
	});

	it('ends once only, and not at all once somebody has made it longer', () => {
		expect(accepts(plan, amendmentsOf('rest over@100'), 'rest over', 101_000)).toBe(false);
		expect(accepts(plan, amendmentsOf('extend rest@100'), 'rest over', 101_000)).toBe(false);
		expect(told(timelineOf(plan, amendmentsOf('rest over@100', 'extend rest@105')))[1]).toBe('rest 1 60-140');
		expect(told(timelineOf(plan, amendmentsOf('extend rest@100')))[1]).toBe('rest 1 60-180');
	});

	it('counts its thirty seconds without pauses, and heeds nothing in one', () => {
		const paused = amendmentsOf('pause@65', 'resume@75');
		expect(told(timelineOf(plan, [...paused, ...amendmentsOf('rest over@76')]))[1]).toBe('rest 1 60-100');
		expect(accepts(plan, amendmentsOf('pause@65'), 'rest over', 70_000)).toBe(false);
	});

	it('is what the closing minute becomes where a round is added, and not in a plan of other rests', () => {
		const added = (one: Plan) => {
			const closing = timelineOf(one).find(({ kind }) => kind === 'closing')!;
			const atS = closing.startMs / 1000 + 5;
			return timelineOf(one, amendmentsOf(`add round@${atS}`)).find(
				({ startMs }) => startMs === closing.startMs
			)!;
		};
		expect(added(plan)).toMatchObject({ kind: 'rest', downToPercent: plan.restDownToPercent });
		expect(added(makePlan())).toMatchObject({ kind: 'rest' });
		expect(added(makePlan()).downToPercent).toBeUndefined();
	});

	it('can still be ended by hand, and by Finish', () => {
		expect(told(timelineOf(plan, amendmentsOf('rest over@90', 'next@93')))[1]).toBe('rest 1 60-93 cutShort');
		const finished = timelineOf(plan, amendmentsOf('rest over@90', 'finish@93'));
		expect(told(finished)).toEqual(['work 1 0-60', 'closing 1 60-120']);
		expect(finished[1]!.settled).toBeUndefined();
	});

	it('is never under thirty seconds nor over the longest, wherever the share is reached', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, fc.nat(900_000), (any, amendments, atMs) => {
				const byHeart = { ...any, restS: Math.max(30, any.restS), restDownToPercent: 75 };
				const before = amendments.filter((one) => one.kind !== 'rest over' && one.atMs <= atMs);
				if (!accepts(byHeart, before, 'rest over', atMs)) return;
				const with_ = [...before, { kind: 'rest over' as const, atMs }];
				const plain = timelineOf(byHeart, before);
				const rest = timelineOf(byHeart, with_).find(({ settled }) => settled === 'by heart')!;
				const longest = plain.find(({ startMs }) => startMs === rest.startMs)!;
				const pausedMs = rest.pauses.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
				expect(rest.endMs - rest.startMs - pausedMs).toBeGreaterThanOrEqual(30_000);
				expect(rest.endMs).toBeLessThan(longest.endMs);
				expect(rest.endMs).toBeGreaterThanOrEqual(atMs + 10_000);
				// And nothing before the rest has moved.
				const past = plain.filter(({ endMs }) => endMs <= rest.startMs);
				expect(timelineOf(byHeart, with_).slice(0, past.length)).toEqual(past);
			})
		);
	});
});

describe('the plan of one', () => {
	it.each([
		[{ restDownToPercent: 49 }, 'restDownToPercent'],
		[{ restDownToPercent: 96 }, 'restDownToPercent'],
		[{ restDownToPercent: 70.5 }, 'restDownToPercent'],
		[{ restS: 29 }, 'restS']
	])('with %j is refused at %s', (fault, field) => {
		expect(checkPlan({ ...plan, ...fault }).map((problem) => problem.field)).toEqual([field]);
	});

	it('says how long its longest rest must be, and no more than that it is no length where it is none', () => {
		const messages = (restS: number) => checkPlan({ ...plan, restS }).map(({ message }) => message);
		for (const restS of [1, 29])
			expect(messages(restS)).toEqual([
				'A rest until recovered lasts 30 seconds or more: make the longest one at least that long.'
			]);
		expect(messages(0)).toEqual(['The rest must be a whole number of seconds, 1 or more.']);
	});

	it('may be started at the edges', () => {
		for (const restDownToPercent of [50, 95])
			expect(checkPlan({ ...plan, restS: 30, restDownToPercent })).toEqual([]);
	});
});
