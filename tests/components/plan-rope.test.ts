import { describe, expect, it } from 'vitest';
import { planWords, ropeOfPlan } from '$lib/components/plans/plan-rope';
import type { Plan } from '$lib/rounds/plan';

const plan: Plan = {
	name: 'Three rounds',
	activity: 'bag',
	roundCount: 3,
	roundS: 180,
	restS: 60,
	warmUpS: 285,
	getReadyS: 15,
	coolDownS: 0,
	endWarningS: 10,
	startWarningS: 10
};

describe('the rope of a plan', () => {
	// 285 + 15 + 3 x 180 + 2 x 60 + 60 after the last bell = 1020 s in all.
	it('stands to scale: each round is 180 of 1020 seconds wide and begins at its bell', () => {
		const rounds = ropeOfPlan(plan).parts.filter(({ kind }) => kind === 'round');
		expect(rounds.map(({ round }) => round)).toEqual([1, 2, 3]);
		expect(rounds.map(({ from }) => from)).toEqual([300, 540, 780].map((s) => (s / 1020) * 100));
		for (const { wide } of rounds) expect(wide).toBeCloseTo((180 / 1020) * 100, 9);
	});

	it('counts the minute after the last bell as a rest, and leaves no part of the whole out', () => {
		const { parts } = ropeOfPlan(plan);
		expect(parts.filter(({ kind }) => kind === 'rest')).toHaveLength(3);
		expect(parts.reduce((sum, { wide }) => sum + wide, 0)).toBeCloseTo(100, 9);
	});

	it('names the first bell and the last one, and only the first where both would be written over each other', () => {
		expect(ropeOfPlan(plan).firstBell.words).toBe('first bell 5:00');
		expect(ropeOfPlan(plan).lastBell?.words).toBe('last bell 16:00');
		expect(ropeOfPlan({ ...plan, roundCount: 1 }).lastBell).toBeUndefined();
	});
});

describe('a plan in a sentence', () => {
	it('says rounds, rests and what lies around them, and nothing of what is not there', () => {
		expect(planWords(plan)).toBe('3 rounds of 3:00, rests of 1:00, warm-up 4:45.');
		expect(planWords({ ...plan, roundCount: 1, warmUpS: 0, coolDownS: 120 })).toBe(
			'One round of 3:00, cool-down 2:00.'
		);
	});

	it('says where a rest lasts until the heart has recovered', () => {
		expect(planWords({ ...plan, warmUpS: 0, restS: 120, restDownToPercent: 75 })).toBe(
			'3 rounds of 3:00, rests until recovered, 2:00 at most.'
		);
	});
});
