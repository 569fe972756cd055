import { checkPlan } from '$lib/rounds/check-plan';
import { checkBlock } from '$lib/rounds/check-block';
import { boutMs, totalMs } from '$lib/rounds/totals';
import { nameAfterRounds } from '$lib/rounds/formats';
import { withBlock, withDouble, withMoved, withoutBlock } from '$lib/rounds/block-list';
import type { Plan } from '$lib/rounds/plan';
import { activityWords, blockAhead, blocksOf, isByHeart, roundsIn, withBlocks } from '$lib/rounds/blocks';
import { accepts, blocksAfter, timelineOf } from '$lib/rounds/timeline';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, anyAmendments, anyPlan, makeBlock, makePlan, told } from './plans';

// Pads 2 x 60 s with 20 s, then 40 s, bag 2 x 30 s with 10 s, then 50 s, skipping 1 x 100 s.
const plan = makePlan({
	roundCount: 2,
	roundS: 60,
	restS: 20,
	blocks: [
		makeBlock({ roundCount: 2, roundS: 30, restS: 10, pauseS: 40 }),
		makeBlock({ activity: 'skipping', roundCount: 1, roundS: 100, restS: 10, pauseS: 50 })
	]
});
const toldOf = (...entries: string[]) => told(timelineOf(plan, amendmentsOf(...entries)));

describe('a session of blocks', () => {
	it('numbers its rounds through, and pauses before each block for as long as that says', () => {
		expect(toldOf()).toEqual([
			'work 1 0-60',
			'rest 1 60-80',
			'work 2 80-140',
			'rest 2 to 2 140-180',
			'work 3 in 2 180-210',
			'rest 3 in 2 210-220',
			'work 4 in 2 220-250',
			'rest 4 in 2 to 3 250-300',
			'work 5 in 3 300-400',
			'closing 5 in 3 400-460'
		]);
		expect(totalMs(plan)).toBe(460_000);
		expect(boutMs(plan)).toBe(400_000);
	});

	it('waits for hearts in the rests of the block that asks for it, and in no pause', () => {
		const byHeart = makePlan({ roundCount: 2, restDownToPercent: 75, blocks: [makeBlock()] });
		expect(timelineOf(byHeart).map(({ kind, downToPercent }) => [kind, downToPercent])).toEqual([
			['work', undefined],
			['rest', 75],
			['work', undefined],
			['rest', undefined],
			['work', undefined],
			['rest', undefined],
			['work', undefined],
			['closing', undefined]
		]);
		expect(accepts(byHeart, [], 'rest over', 190_000)).toBe(true);
		expect(accepts(byHeart, [], 'rest over', 430_000)).toBe(false);
	});

	it("begins the next block after so many of the gym's own bells, and the last has no last round", () => {
		const gym = { ...plan, blocks: [plan.blocks![0]!], followsGymBell: true as const };
		const bells = [10, 70, 90, 150, 200, 230, 240, 270, 280];
		expect(told(timelineOf(gym, amendmentsOf(...bells.map((s) => `next@${s}`)))).slice(3)).toEqual([
			'work 2 90-150 cutShort',
			'rest 2 to 2 150-200 cutShort',
			'work 3 in 2 200-230 cutShort',
			'rest 3 in 2 230-240 cutShort',
			'work 4 in 2 240-270 cutShort',
			'rest 4 in 2 270-280 cutShort',
			'work 5 in 2 280-Infinity'
		]);
	});
});

describe('skip block', () => {
	it('in a round rings its last bell and goes to the pause before the next block', () => {
		expect(toldOf('skip block@30').slice(0, 3)).toEqual([
			'work 1 0-30 cutShort',
			'rest 1 to 2 30-70',
			'work 2 in 2 70-100'
		]);
	});

	it('in a rest makes it that pause, with the whistle still to come', () => {
		expect(toldOf('skip block@70').slice(1, 3)).toEqual(['rest 1 to 2 60-100', 'work 2 in 2 100-130']);
		const short = { ...plan, blocks: [makeBlock({ pauseS: 1 })] };
		expect(told(timelineOf(short, amendmentsOf('skip block@75'))).at(1)).toBe('rest 1 to 2 60-85');
	});

	it('in a pause leaves out the block that it leads to, and before the last one ends the work', () => {
		expect(toldOf('skip block@150').slice(3)).toEqual([
			'rest 2 to 3 140-190',
			'work 3 in 3 190-290',
			'closing 3 in 3 290-350'
		]);
		expect(toldOf('skip block@150', 'skip block@160').slice(3)).toEqual(['closing 2 140-200']);
	});

	it('before the first bell begins with the next block', () => {
		const ready = { ...plan, warmUpS: 100, getReadyS: 10 };
		expect(told(timelineOf(ready, amendmentsOf('skip block@50'))).slice(0, 3)).toEqual([
			'warm-up in 2 0-100',
			'get ready 1 in 2 100-110',
			'work 1 in 2 110-140'
		]);
	});

	it('in ten seconds of getting ready begins with the next block where nothing was boxed, and else does nothing', () => {
		const ready = { ...plan, getReadyS: 10 };
		expect(told(timelineOf(ready, amendmentsOf('skip block@5'))).slice(0, 2)).toEqual([
			'get ready 1 in 2 0-10',
			'work 1 in 2 10-40'
		]);
		expect(accepts(ready, [], 'repeat block', 5000)).toBe(false);
		const again = amendmentsOf('repeat round@30');
		expect(
			timelineOf(plan, again)
				.map(({ kind }) => kind)
				.slice(0, 3)
		).toEqual(['work', 'get ready', 'work']);
		expect(accepts(plan, again, 'skip block', 35_000)).toBe(false);
		expect(accepts(plan, again, 'repeat block', 35_000)).toBe(true);
	});

	it('leaves the block as many rounds as were boxed of it', () => {
		expect(blocksAfter(plan, amendmentsOf('skip block@185')).map(({ roundCount }) => roundCount)).toEqual([
			2, 1, 1
		]);
	});

	it("in a pause of the gym's own bell leaves out a block that another one follows", () => {
		const gym = { ...plan, followsGymBell: true as const };
		const bells = amendmentsOf('next@10', 'next@70', 'next@90', 'next@150');
		expect(timelineOf(gym, bells).at(-1)).toMatchObject({ kind: 'rest', toBlock: 2 });
		expect(accepts(gym, bells, 'skip block', 160_000)).toBe(true);
		expect(accepts(gym, [...bells, ...amendmentsOf('skip block@160')], 'skip block', 170_000)).toBe(false);
	});

	it('is not possible where nothing follows: then it is finished', () => {
		expect(accepts(makePlan(), [], 'skip block', 10_000)).toBe(false);
		expect(accepts(plan, [], 'skip block', 310_000)).toBe(false);
	});
});

describe('repeat block', () => {
	it('in a block, or in the pause after it, lets it follow once more with the pause of its own', () => {
		const again = ['work 3 in 2 260-320', 'rest 3 in 2 320-340', 'work 4 in 2 340-400'];
		expect(toldOf('repeat block@30').slice(3, 7)).toEqual(['rest 2 to 2 140-260', ...again]);
		expect(toldOf('repeat block@150').slice(3, 7)).toEqual(['rest 2 to 2 140-260', ...again]);
		expect(toldOf('repeat block@150').at(7)).toBe('rest 4 in 2 to 3 400-440');
	});

	it('in the closing minute makes a pause of it', () => {
		expect(toldOf('repeat block@410').slice(9)).toEqual([
			'rest 5 in 3 to 4 400-450',
			'work 6 in 4 450-550',
			'closing 6 in 4 550-610'
		]);
	});

	it('is not possible before the first bell, in the cool-down, or in a measurement', () => {
		expect(accepts(makePlan({ warmUpS: 60 }), [], 'repeat block', 10_000)).toBe(false);
		expect(accepts(makePlan({ roundCount: 1, coolDownS: 60 }), [], 'repeat block', 250_000)).toBe(false);
		for (const kind of ['repeat block', 'add block', 'skip block'] as const)
			expect(accepts({ ...plan, kind: 'recovery check' }, [], kind, 10_000)).toBe(false);
	});
});

describe('add block', () => {
	it('comes last, and in the closing minute takes its place', () => {
		const block = makeBlock({ activity: 'sparring', roundCount: 1, roundS: 90, pauseS: 45 });
		const added = timelineOf(plan, [{ kind: 'add block', atMs: 10_000, block }]);
		expect(told(added).slice(9)).toEqual([
			'rest 5 in 3 to 4 400-445',
			'work 6 in 4 445-535',
			'closing 6 in 4 535-595'
		]);
		const late = timelineOf(plan, [{ kind: 'add block', atMs: 410_000, block }]);
		expect(told(late)).toEqual(told(added));
	});

	it('leaves a session of sixty blocks to be cut shorter', () => {
		const sixty = makePlan({ blocks: Array.from({ length: 59 }, () => makeBlock({ roundCount: 1 })) });
		const can = (kind: 'add block' | 'repeat block' | 'skip block') => accepts(sixty, [], kind, 10_000);
		expect([can('add block'), can('repeat block'), can('skip block')]).toEqual([false, false, true]);
	});

	it('stops at sixty, so that no list of presses makes a session without end', () => {
		const presses = Array.from({ length: 100 }, () => ({ kind: 'add block' as const, atMs: 1000 }));
		expect(blocksAfter(plan, presses)).toHaveLength(60);
	});
});

describe('other presses across blocks', () => {
	it('add round adds to the block just boxed: its pause becomes a rest', () => {
		expect(toldOf('add round@145').slice(3, 6)).toEqual([
			'rest 2 140-160',
			'work 3 160-220',
			'rest 3 to 2 220-260'
		]);
	});

	it('repeat round in a pause boxes the last round again, and then comes the pause', () => {
		expect(toldOf('repeat round@145').slice(3, 6)).toEqual([
			'rest 2 140-160',
			'work 2 again 2 160-220',
			'rest 2 again 2 to 2 220-260'
		]);
	});

	it('finish in a pause makes it the closing minute', () => {
		expect(toldOf('finish@150').slice(3)).toEqual(['closing 2 140-200']);
	});
});

describe('whatever is pressed', () => {
	it('rounds and blocks only go on (one of no length leaves no trace), each with the length of its block', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const blocks = blocksAfter(plan, amendments);
				let round = 0;
				let block = 1;
				for (const phase of timelineOf(plan, amendments)) {
					const of = phase.block ?? 1;
					if (phase.kind !== 'work') continue;
					expect(phase.round).toBeGreaterThanOrEqual(round);
					expect(of).toBeGreaterThanOrEqual(block);
					const pausedMs = phase.pauses.reduce(
						(ms, { fromMs, toMs }) => ms + (toMs === Infinity ? 0 : toMs - fromMs),
						0
					);
					expect(phase.plannedEndMs - phase.startMs - pausedMs).toBe(blocks[of - 1]!.roundS * 1000);
					round = phase.round!;
					block = of;
				}
			})
		);
	});

	it('the rounds of each block are as many as it has by the end, unless it was finished or cut on its very bell', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const kinds = amendments.map(({ kind }) => kind);
				if (kinds.includes('finish') || kinds.includes('next') || kinds.includes('pause')) return;
				const timeline = timelineOf(plan, amendments);
				const isCutOnBell = timeline.some(
					(phase, i) => phase.kind !== 'work' && timeline[i + 1]?.kind !== 'work' && phase.kind === 'rest'
				);
				if (isCutOnBell || kinds.some((kind) => kind === 'stop round' || kind === 'repeat round')) return;
				blocksAfter(plan, amendments).forEach(({ roundCount }, i) => {
					const boxed = timeline.filter(({ kind, block = 1 }) => kind === 'work' && block === i + 1);
					expect(boxed).toHaveLength(roundCount);
				});
			})
		);
	});

	it('a plan that nobody touches lasts the sum of its parts', () => {
		fc.assert(
			fc.property(anyPlan, (plan) => {
				const s = blocksOf(plan).reduce(
					(sum, { roundCount, roundS, restS, pauseS }, i) =>
						sum + roundCount * roundS + (roundCount - 1) * restS + (i > 0 ? pauseS : 0),
					plan.warmUpS + plan.getReadyS + 60 + plan.coolDownS
				);
				expect(totalMs(plan)).toBe(s * 1000);
				expect(timelineOf(plan).filter(({ kind }) => kind === 'work')).toHaveLength(roundsIn(blocksOf(plan)));
			})
		);
	});
});

describe('a plan as its blocks', () => {
	it('is the same plan again', () => {
		fc.assert(
			fc.property(anyPlan, (plan) => {
				const [first, ...others] = blocksOf(plan);
				expect(withBlocks(plan, [first!, ...others])).toEqual(plan);
			})
		);
	});

	it('is of all its activities, and its name says no rounds that it has not', () => {
		expect(activityWords(plan)).toBe('pads, bag, skipping');
		expect(nameAfterRounds({ ...plan, name: 'Pads, 2 x 1' })).toBe('Pads, 5 rounds in 3 blocks');
		expect(nameAfterRounds({ ...makePlan(), name: 'Pads, 5 rounds in 3 blocks' })).toBe('Pads, 3 x 3');
	});
});

describe('what a plan of blocks is asked', () => {
	it('its first block has the aim of the plan, and is by heart where the plan is', () => {
		const aim = { kind: 'easy' } as const;
		expect(blocksOf(makePlan({ aim, restDownToPercent: 75 }))[0]).toMatchObject({
			aim,
			restDownToPercent: 75
		});
	});

	it('it waits for hearts where one of its blocks does', () => {
		expect(isByHeart(plan)).toBe(false);
		expect(isByHeart({ ...plan, restDownToPercent: 75 })).toBe(true);
		expect(isByHeart(makePlan({ blocks: [makeBlock(), makeBlock({ restDownToPercent: 75 })] }))).toBe(true);
	});

	it('ahead of a pause lies the block that it leads to, and else the one that is boxed', () => {
		const blocks = blocksOf(plan);
		expect(blockAhead(blocks, { block: 2, toBlock: 3 })).toBe(blocks[2]);
		expect(blockAhead(blocks, { block: 2 })).toBe(blocks[1]);
		expect(blockAhead(blocks, {})).toBe(blocks[0]);
	});
});

describe('blocks that are rearranged in a form', () => {
	const of = (one: Plan) => blocksOf(one).map(({ activity, pauseS }) => [activity, pauseS]);

	it('change places, and the pauses between them stay where they are', () => {
		expect(of(withMoved(plan, 2, -1))).toEqual([
			['bag', 120],
			['pads', 40],
			['skipping', 50]
		]);
		expect(withMoved(withMoved(plan, 2, -1), 1, 1)).toEqual(plan);
		expect(withMoved(plan, 1, -1)).toBe(plan);
		expect(withMoved(plan, 3, 1)).toBe(plan);
	});

	it('are doubled, taken out and replaced, down to the last one, which stays', () => {
		expect(of(withDouble(plan, 2)).map(([activity]) => activity)).toEqual(['pads', 'bag', 'bag', 'skipping']);
		expect(of(withoutBlock(plan, 1)).map(([activity]) => activity)).toEqual(['bag', 'skipping']);
		expect(withoutBlock(makePlan(), 1)).toEqual(makePlan());
		expect(withoutBlock(withDouble(makePlan(), 1), 2)).toEqual(makePlan());
		const changed = withBlock(plan, 3, makeBlock({ activity: 'circuit' }));
		expect(activityWords(changed)).toBe('pads, bag, circuit');
		expect(withBlock(plan, 1, blocksOf(plan)[0]!)).toEqual(plan);
	});
});

describe('checkPlan', () => {
	const faults = (block: object) =>
		checkPlan(makePlan({ blocks: [makeBlock(), { ...makeBlock(), ...block } as never] }));

	it.each([
		[{ roundCount: 0 }, 'roundCount', 'Block 3: the number of rounds must be a whole number, 1 or more.'],
		[
			{ roundS: NaN },
			'roundS',
			'Block 3: the length of a round must be a whole number of seconds, 1 or more.'
		],
		[{ pauseS: 0 }, 'pauseS', 'Block 3: the pause before it must be a whole number of seconds, 1 or more.'],
		[{ activity: 'nothing' }, 'activity', 'Block 3: this cannot be kept as it is. Choose it again.'],
		[
			{ aim: { kind: 'effort', effort: 11 } },
			'aim',
			'Block 3: the effort must be a whole number from 0 to 10.'
		],
		[
			{ aim: { kind: 'share of maximum', fromPercent: 90, toPercent: 80 } },
			'aim',
			'Block 3: the share must go from a lower to a higher number.'
		],
		[
			{ restDownToPercent: 20 },
			'restDownToPercent',
			'Block 3: the share must be a whole number from 50 to 95 % of the threshold.'
		]
	])('says of %o in which block what is wrong', (block, field, message) => {
		expect(faults(block)).toEqual([{ field, block: 3, message }]);
	});

	it('says of the first block what is wrong without a number, as of a plan of one', () => {
		expect(checkPlan(makePlan({ roundCount: 0, blocks: [makeBlock()] }))).toEqual([
			{ field: 'roundCount', message: 'The number of rounds must be a whole number, 1 or more.' }
		]);
	});

	it('counts rounds and hours over all blocks', () => {
		expect(faults({ roundCount: 56, roundS: 10, restS: 10 })).toEqual([
			{ field: 'roundCount', block: 3, message: 'Block 3: a plan has at most 60 rounds. Take fewer.' }
		]);
		expect(faults({ pauseS: 14_000 }).map(({ field, block }) => [field, block])).toEqual([['pauseS', 3]]);
	});

	it('says the same of a block that is added to what runs, without a number', () => {
		expect(checkBlock(makeBlock())).toEqual([]);
		expect(checkBlock(makeBlock({ roundCount: 0 }))).toEqual([
			{ field: 'roundCount', message: 'The number of rounds must be a whole number, 1 or more.' }
		]);
	});

	it('heeds the number of rounds also where the gym rings', () => {
		const gym = makePlan({ followsGymBell: true, blocks: [makeBlock({ roundCount: 0 })] });
		expect(checkPlan(gym).map(({ field, block }) => [field, block])).toEqual([['roundCount', 2]]);
	});
});
