import type { Amendment } from '$lib/rounds/amendment';
import { checkPlan } from '$lib/rounds/check-plan';
import { accepts, isPausedAt, phaseAt, ranMs, remainingMs, timelineOf } from '$lib/rounds/timeline';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, anyAmendments, anyPlan, makePlan, told } from './plans';

const plan = makePlan({ roundCount: 1, followsGymBell: true });

describe("a session to the gym's own bell", () => {
	it('waits for the first bell for as long as it takes', () => {
		expect(told(timelineOf(plan))).toEqual(['get ready 1 0-Infinity']);
	});

	it('takes each press for a bell: round, rest, round, for as many as there are', () => {
		const pressed = timelineOf(plan, amendmentsOf('next@40', 'next@220', 'next@281', 'next@460'));
		expect(told(pressed)).toEqual([
			'get ready 1 0-40 cutShort',
			'work 1 40-220 cutShort',
			'rest 1 220-281 cutShort',
			'work 2 281-460 cutShort',
			'rest 2 460-Infinity'
		]);
		// How long a round was to last nobody ever learns.
		expect(pressed.map(({ plannedEndMs }) => plannedEndMs)).toEqual(Array(5).fill(Infinity));
	});

	it('ends with the minute after the last bell, which needs no key', () => {
		const inWork = timelineOf(plan, amendmentsOf('next@10', 'finish@100'));
		expect(told(inWork).slice(1)).toEqual(['work 1 10-100 cutShort', 'closing 1 100-160']);
		const inRest = timelineOf(plan, amendmentsOf('next@10', 'next@100', 'finish@120'));
		expect(told(inRest).slice(1)).toEqual(['work 1 10-100 cutShort', 'closing 1 100-160']);
		const late = timelineOf(plan, amendmentsOf('next@10', 'next@100', 'finish@190'));
		expect(told(late).slice(1)).toEqual(['work 1 10-100 cutShort', 'closing 1 100-190']);
	});

	it("stands still at the referee's stop and goes on at time", () => {
		const stopped = amendmentsOf('next@10', 'pause@30');
		expect(told(timelineOf(plan, stopped)).at(-1)).toBe('work 1 10-Infinity');
		expect(isPausedAt(timelineOf(plan, stopped), 35_000)).toBe(true);
		const goingOn = timelineOf(plan, [...stopped, ...amendmentsOf('resume@50')]);
		expect(isPausedAt(goingOn, 55_000)).toBe(false);
		const work = phaseAt(goingOn, 55_000)!;
		expect([30, 40, 50, 55].map((s) => ranMs(work, s * 1000))).toEqual([20_000, 20_000, 20_000, 25_000]);
		expect(remainingMs(work, 55_000)).toBe(Infinity);
	});

	it('knows nothing that only a plan could know', () => {
		for (const kind of ['repeat round', 'add round', 'extend rest', 'rest over'] as const)
			for (const s of [5, 20, 120])
				expect(accepts(plan, amendmentsOf('next@10', 'next@100'), kind, s * 1000)).toBe(false);
		expect(accepts(plan, amendmentsOf('next@10'), 'stop round', 20_000)).toBe(true);
		// Not even where a plan from elsewhere asks for both.
		const both = { ...plan, restDownToPercent: 75 };
		expect(accepts(both, amendmentsOf('next@10', 'next@100'), 'rest over', 130_000)).toBe(false);
	});

	it('is started however long the plan is, but not without a name nor with what cannot be kept', () => {
		expect(checkPlan({ ...plan, roundS: 0, restS: 14_400, roundCount: 1000 })).toEqual([]);
		expect(checkPlan({ ...plan, restS: NaN }).map(({ field }) => field)).toEqual(['restS']);
		expect(checkPlan({ ...plan, name: ' ' }).map(({ field }) => field)).toEqual(['name']);
	});

	it('has phases without a hole whose ends are all presses, whatever is pressed', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (any, amendments) => {
				const follows = { ...any, followsGymBell: true as const };
				const timeline = timelineOf(follows, amendments);
				const pressedMs = new Set(amendments.map(({ atMs }) => atMs));
				let endMs = 0;
				for (const phase of timeline) {
					expect(phase.startMs).toBe(endMs);
					expect(phase.endMs).toBeGreaterThan(phase.startMs);
					endMs = phase.endMs;
					if (phase.kind !== 'closing' && endMs < Infinity) expect(pressedMs).toContain(endMs);
				}
				const isFinished = amendments.some(({ kind, atMs }: Amendment) => kind === 'finish' && atMs >= 0);
				if (!isFinished) expect(endMs).toBe(Infinity);
			})
		);
	});

	it('counts up with the clock, and not in a pause', () => {
		fc.assert(
			fc.property(anyAmendments, fc.nat(900_000), fc.nat(5000), (amendments, ms, stepMs) => {
				const timeline = timelineOf(plan, amendments);
				const phase = phaseAt(timeline, ms);
				if (!phase || phaseAt(timeline, ms + stepMs) !== phase) return;
				const ranOnMs = ranMs(phase, ms + stepMs) - ranMs(phase, ms);
				expect(ranOnMs).toBeGreaterThanOrEqual(0);
				expect(ranOnMs).toBeLessThanOrEqual(stepMs);
				if (phase.pauses.some(({ fromMs, toMs }) => fromMs <= ms && ms + stepMs <= toMs))
					expect(ranOnMs).toBe(0);
				if (phase.pauses.length === 0) expect(ranOnMs).toBe(stepMs);
			})
		);
	});
});
