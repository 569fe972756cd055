import { planCost, planCostWords } from '$lib/review/plan-cost';
import type { KeptTraining } from '$lib/review/training';
import { describe, expect, it } from 'vitest';
import { makeBlock, makePlan } from '../rounds/plans';

/** Pads of an hour on that day of March, with this effort. */
const training = (day: number, effort?: number, overrides: Partial<KeptTraining> = {}): KeptTraining => ({
	id: `t${day}`,
	groupId: `t${day}`,
	startedAt: `2026-03-${String(day).padStart(2, '0')}T18:00:00.000Z`,
	athleteId: 'a',
	title: 'Tuesday pads',
	activity: 'pads',
	minutes: 60,
	drops: [],
	...(effort !== undefined && { effort }),
	...overrides
});
const five = [6, 4, 9, 5, 7].map((effort, i) => training(i + 1, effort));

// Three rounds of 3:00, two rests of 1:00 and the closing minute: 9 + 2 + 1 = 12 minutes.
const plan = makePlan();

describe('what a plan costs at the usual effort', () => {
	// Foster et al., J Strength Cond Res 2001;15:109-115: effort times minutes. The middle of 4, 5, 6, 7, 9 is 6; 12 x 6 = 72.
	it('is its minutes times the middle of the efforts of like sessions', () => {
		const cost = planCost(five, plan);
		expect(cost.value).toEqual({ minutes: 12, effort: 6, load: 72, sessionCount: 5 });
		expect(planCostWords(cost, false)).toBe(
			'Effort load about 72: 12 minutes at effort 6, the middle of 5 like sessions.'
		);
		expect(planCostWords(cost, true)).toMatch(/^Effort load up to 72/);
	});

	it('is not known without five of them, and says how many there are', () => {
		expect(planCostWords(planCost([...five.slice(1), training(9)], plan), false)).toBe(
			'Effort load not known yet: 4 of 5 sessions of pads with an effort.'
		);
	});

	it('names all the activities that it lacks sessions of', () => {
		const blocks = makePlan({ blocks: [makeBlock({ activity: 'bag' })] });
		expect(planCost(five, blocks).reason).toBe(
			'Effort load not known yet: 0 of 5 sessions of bag, pads with an effort.'
		);
	});

	it('is told in whole minutes, with a tenth of effort', () => {
		const value = { minutes: 12.5, effort: 6.25, load: 78.125, sessionCount: 6 };
		expect(planCostWords({ value }, false)).toBe(
			'Effort load about 78: 13 minutes at effort 6.3, the middle of 6 like sessions.'
		);
	});

	it('goes by the same activities alone, in whatever order, and by no test', () => {
		const others = [
			training(10, 10, { activity: 'bag' }),
			training(11, 10, { done: 'pads, bag' }),
			training(12, 10, { planKind: 'recovery check' })
		];
		expect(planCost([...five, ...others], plan).value!.effort).toBe(6);
		const both = [1, 2, 3, 4, 5].map((day) => training(day, 3, { done: 'bag, pads' }));
		const blocks = makePlan({ blocks: [makeBlock({ activity: 'bag' })] });
		expect(planCost([...five, ...both], blocks).value!.effort).toBe(3);
	});

	it('goes by the last ten, in order of time', () => {
		const old = Array.from({ length: 10 }, (_, i) => training(i + 1, 10));
		const late = Array.from({ length: 10 }, (_, i) => training(i + 15, 2));
		expect(planCost([...late, ...old], plan).value).toMatchObject({ effort: 2, sessionCount: 10 });
	});

	it("is nobody's to say where the gym's own bell rings", () => {
		expect(planCost(five, { ...plan, followsGymBell: true }).reason).toMatch(/own bell/);
	});
});
