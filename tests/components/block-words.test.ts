import { describe, expect, it } from 'vitest';
import { blockWords } from '$lib/components/plans/block-words';
import { planWords, ropeOfPlan } from '$lib/components/plans/plan-rope';
import { makeBlock, makePlan } from '../rounds/plans';

describe('a block in a line', () => {
	it('says what is done, how long, at what, and what lies before it', () => {
		const block = makeBlock({ roundCount: 3, aim: { kind: 'near threshold' } });
		expect(blockWords(block, 2, false)).toBe(
			'Bag: 3 rounds of 2:00, rests of 0:30, near the threshold; 2:00 before it'
		);
		expect(blockWords(makeBlock({ roundCount: 1, restDownToPercent: 75 }), 1, false)).toBe(
			'Bag: one round of 2:00'
		);
		expect(blockWords(makeBlock({ restDownToPercent: 75 }), 1, false)).toBe(
			'Bag: 2 rounds of 2:00, rests until recovered, 0:30 at most'
		);
	});

	it("says no lengths to the gym's own bell, and nothing odd of a number that is half typed", () => {
		expect(blockWords(makeBlock({ aim: { kind: 'effort', effort: 7 } }), 2, true)).toBe(
			'Bag: 2 rounds, effort 7'
		);
		expect(blockWords(makeBlock({ roundS: NaN }), 1, false)).toBe('Bag: 2 rounds of –, rests of 0:30');
	});
});

describe('the rope of several blocks', () => {
	// Pads 2 x 60 s with 20 s, 40 s, bag 1 x 100 s, 60 s: 340 s in all.
	const plan = makePlan({
		roundCount: 2,
		roundS: 60,
		restS: 20,
		blocks: [makeBlock({ roundCount: 1, roundS: 100, pauseS: 40, aim: { kind: 'fight pace' } })]
	});

	it('shows each to scale from its first bell to its last, with what is done and at what', () => {
		const percent = (s: number) => (s / 340) * 100;
		const [pads, bag] = ropeOfPlan(plan).blocks;
		expect([pads!.words, pads!.aim, bag!.words, bag!.aim]).toEqual(['pads', undefined, 'bag', 'fight pace']);
		expect(pads!.from).toBeCloseTo(0, 9);
		expect(pads!.wide).toBeCloseTo(percent(140), 9);
		expect(bag!.from).toBeCloseTo(percent(180), 9);
		expect(bag!.wide).toBeCloseTo(percent(100), 9);
		expect(ropeOfPlan(makePlan()).blocks).toEqual([]);
	});

	it('is so many rounds in so many blocks', () => {
		expect(planWords({ ...plan, warmUpS: 300 })).toBe('3 rounds in 2 blocks, warm-up 5:00.');
		expect(planWords(makePlan({ aim: { kind: 'easy' } }))).toBe('3 rounds of 3:00, rests of 1:00, easy.');
	});
});
