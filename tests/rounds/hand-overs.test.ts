import { blocksOf } from '$lib/rounds/blocks';
import { usualHandOverS } from '$lib/rounds/hand-overs';
import type { Plan } from '$lib/rounds/plan';
import { accepts, timelineOf } from '$lib/rounds/timeline';
import { boutMs, totalMs } from '$lib/rounds/totals';
import { lostAfter, withHandOvers } from '$lib/rounds/turns';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, anyAmendments, anyPlan, makeBlock, makePlan, told } from './plans';

const handedOver = (afterRounds: number[], overrides: Partial<Plan> = {}) =>
	withHandOvers(makePlan(overrides), afterRounds, usualHandOverS);
const toldOf = (plan: Plan, ...entries: string[]) => told(timelineOf(plan, amendmentsOf(...entries)));
const anyHandOvers = fc.record({
	afterRounds: fc.uniqueArray(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 6 }),
	lengthS: fc.integer({ min: 1, max: 300 })
});

// Minutes of the measured rest and of handing over are own rules, no source; all lengths below are computed by hand.
describe('a plan with time for handing over', () => {
	it('rests a measured minute and two more where a strap changes chests, and as before elsewhere', () => {
		const plan = handedOver([1]);
		expect(toldOf(plan)).toEqual([
			'work 1 0-180',
			'rest 1 180-360',
			'work 2 360-540',
			'rest 2 540-600',
			'work 3 600-780',
			'closing 3 780-840'
		]);
		expect(boutMs(plan)).toBe(780_000);
		expect(totalMs(plan)).toBe(840_000);
	});

	it('takes another length for it', () => {
		expect(toldOf(withHandOvers(makePlan(), [2], 45)).slice(1, 4)).toEqual([
			'rest 1 180-240',
			'work 2 240-420',
			'rest 2 420-525'
		]);
	});

	it('never rests shorter than the plan itself does', () => {
		const plan = handedOver([1], { restS: 240 });
		expect(toldOf(plan)).toEqual(toldOf(makePlan({ restS: 240 })));
		expect(totalMs(plan)).toBe(totalMs(makePlan({ restS: 240 })));
		expect(toldOf(handedOver([1], { restS: 10 })).slice(1, 2)).toEqual(['rest 1 180-360']);
	});

	it('makes the pause before a block long enough too', () => {
		const blocks = (pauseS: number) => ({ roundCount: 1, blocks: [makeBlock({ pauseS })] });
		expect(toldOf(handedOver([1], blocks(120))).slice(0, 3)).toEqual([
			'work 1 0-180',
			'rest 1 to 2 180-360',
			'work 2 in 2 360-480'
		]);
		expect(toldOf(handedOver([1], blocks(300))).at(1)).toBe('rest 1 to 2 180-480');
	});

	it('waits for no heart where the strap goes: that rest is a plain one', () => {
		const plan = handedOver([1], { restS: 120, restDownToPercent: 75 });
		const downTo = timelineOf(plan).flatMap(({ kind, downToPercent }) =>
			kind === 'rest' ? [downToPercent] : []
		);
		expect(downTo).toEqual([undefined, 75]);
		expect(accepts(plan, [], 'rest over', 250_000)).toBe(false);
		expect(accepts(plan, [], 'rest over', 620_000)).toBe(true);
	});

	it('leaves the closing minute as it is: nobody boxes after it', () => {
		expect(toldOf(handedOver([3]))).toEqual(toldOf(makePlan()));
		expect(totalMs(handedOver([3]))).toBe(totalMs(makePlan()));
	});

	it('lasts as long as its timeline, whatever the plan', () => {
		fc.assert(
			fc.property(anyPlan, anyHandOvers, (plan, { afterRounds, lengthS }) => {
				const handing = withHandOvers(plan, afterRounds, lengthS);
				expect(timelineOf(handing).at(-1)!.endMs).toBe(totalMs(handing));
			})
		);
	});

	it('has the rests of the plan without, but for those after which a strap goes', () => {
		fc.assert(
			fc.property(anyPlan, anyHandOvers, (plan, { afterRounds, lengthS }) => {
				const lengths = (of: Plan) => timelineOf(of).map(({ startMs, endMs }) => (endMs - startMs) / 1000);
				const phases = timelineOf(plan);
				const expected = lengths(plan).map((s, i) => {
					const { kind, round } = phases[i]!;
					return kind === 'rest' && afterRounds.includes(round!) ? Math.max(s, 60 + lengthS) : s;
				});
				expect(lengths(withHandOvers(plan, afterRounds, lengthS))).toEqual(expected);
			})
		);
	});

	it("changes nothing where the gym's own bell rings, whatever is pressed", () => {
		fc.assert(
			fc.property(anyPlan, anyHandOvers, anyAmendments, (plan, { afterRounds, lengthS }, amendments) => {
				const gym: Plan = { ...plan, followsGymBell: true };
				const handing = withHandOvers(gym, afterRounds, lengthS);
				expect(timelineOf(handing, amendments)).toEqual(timelineOf(gym, amendments));
				expect(totalMs(handing)).toBe(Infinity);
			})
		);
	});
});

describe('when something is pressed', () => {
	it('a round that is added after the last lets the strap go before it', () => {
		const plan = handedOver([3]);
		expect(toldOf(plan, 'add round@10').slice(5)).toEqual([
			'rest 3 660-840',
			'work 4 840-1020',
			'closing 4 1020-1080'
		]);
		expect(toldOf(plan, 'add round@670')).toEqual(toldOf(plan, 'add round@10'));
	});

	it('that rest is a plain one where the others are by heart', () => {
		const plan = handedOver([3], { restDownToPercent: 75 });
		for (const pressed of ['add round@10', 'add round@670'])
			expect(
				timelineOf(plan, amendmentsOf(pressed)).flatMap(({ kind, round, downToPercent }) =>
					kind === 'rest' ? [[round, downToPercent]] : []
				)
			).toEqual([
				[1, 75],
				[2, 75],
				[3, undefined]
			]);
	});

	it('a round that is boxed again has the long rest before it and after it', () => {
		expect(toldOf(handedOver([1]), 'repeat round@200').slice(0, 5)).toEqual([
			'work 1 0-180',
			'rest 1 180-360',
			'work 1 again 2 360-540',
			'rest 1 again 2 540-720',
			'work 2 720-900'
		]);
	});

	it('a block that is skipped leaves the pause long enough for the strap', () => {
		const plan = handedOver([1], { blocks: [makeBlock({ pauseS: 30 })] });
		expect(toldOf(plan, 'skip block@90').slice(0, 3)).toEqual([
			'work 1 0-90 cutShort',
			'rest 1 to 2 90-270',
			'work 2 in 2 270-390'
		]);
		expect(toldOf(plan, 'skip block@200').slice(1, 3)).toEqual([
			'rest 1 to 2 180-360',
			'work 2 in 2 360-480'
		]);
	});
});

describe('time for handing over', () => {
	it('is put into a plan, put in anew, and taken out', () => {
		const plan = makePlan();
		const handing = withHandOvers(plan, [1, 2], 120);
		expect(handing).toEqual({ ...plan, handOvers: { afterRounds: [1, 2], lengthS: 120 } });
		expect(withHandOvers(handing, [2], 60)).toEqual({
			...plan,
			handOvers: { afterRounds: [2], lengthS: 60 }
		});
		expect(withHandOvers(handing, [], 120)).toEqual(plan);
		expect(withHandOvers(handing, [1, 2], 0)).toEqual(plan);
	});

	it('is missing where a rest ends with its measured minute or before it', () => {
		const plan = makePlan({ roundCount: 3, restS: 60, blocks: [makeBlock({ restS: 61, pauseS: 59 })] });
		expect(lostAfter(plan, [1, 2, 3, 4])).toEqual([1, 2, 3]);
		expect(lostAfter(plan, [2])).toEqual([2]);
		expect(lostAfter(withHandOvers(plan, [1, 3], 1), [1, 2, 3, 4])).toEqual([2]);
		expect(lostAfter(plan, [5]), 'nobody boxes after the last').toEqual([]);
	});

	it('loses nobody a drop where the plan has it, whatever the plan', () => {
		fc.assert(
			fc.property(anyPlan, anyHandOvers, (plan, { afterRounds, lengthS }) => {
				expect(lostAfter(withHandOvers(plan, afterRounds, lengthS), afterRounds)).toEqual([]);
				const roundCount = blocksOf(plan).reduce((sum, block) => sum + block.roundCount, 0);
				expect(lostAfter(plan, afterRounds).every((round) => round < roundCount)).toBe(true);
			})
		);
	});
});
