import { describe, expect, it } from 'vitest';
import { blocksOnRope, isSameRope, ropeGeometry, ropeWords } from '$lib/charts/rope-geometry';
import { blocksOf } from '$lib/rounds/blocks';
import { blocksAfter, timelineOf } from '$lib/rounds/timeline';
import type { CornerView, LiveView } from '$lib/session/live-view';
import { bareRopeOf, ropeOf } from '$lib/session/rope';
import { amendmentsOf, makeBlock, makePlan } from '../rounds/plans';

const plan = makePlan({
	roundCount: 2,
	roundS: 60,
	blocks: [makeBlock({ roundCount: 3 }), makeBlock({ activity: 'skipping', roundCount: 1 })]
});
const viewOf = (blocks: LiveView['blocks'], rounds: object[] = []) => {
	const corner = { rounds } as unknown as CornerView;
	const roundCount = blocks.reduce((sum, one) => sum + one.roundCount, 0);
	return { view: { blocks, roundCount, corners: [corner] } as unknown as LiveView, corner };
};
const begun = (rope: readonly { round: number; begins?: string }[]) =>
	rope.flatMap(({ round, begins }) => (begins ? [[round, begins]] : []));

describe('the rope of several blocks', () => {
	it('marks the round that each begins with, boxed or to come', () => {
		const boxed = [{ round: 1 }, { round: 2 }, { round: 3, block: 2 }];
		const { view, corner } = viewOf(blocksOf(plan), boxed);
		const marks = [
			[1, 'pads'],
			[3, 'bag'],
			[6, 'skipping']
		];
		expect(begun(ropeOf(view, corner))).toEqual(marks);
		expect(begun(bareRopeOf(view))).toEqual(marks);
	});

	it('marks none where the session is of one, and once where its first round is boxed again', () => {
		const one = viewOf(blocksOf(makePlan()), [{ round: 1 }]);
		expect(begun(ropeOf(one.view, one.corner))).toEqual([]);
		const again = viewOf(blocksOf(plan), [
			{ round: 1 },
			{ round: 2 },
			{ round: 3 },
			{ round: 3, attempt: 2 }
		]);
		expect(begun(ropeOf(again.view, again.corner))).toEqual([
			[1, 'pads'],
			[3, 'bag'],
			[6, 'skipping']
		]);
	});

	it('leaves out a block that was skipped', () => {
		// Skipped in the pause before it, from 300 s on.
		const amendments = amendmentsOf('skip block@200');
		expect(timelineOf(plan, amendments).filter(({ kind }) => kind === 'work')).toHaveLength(3);
		expect(begun(bareRopeOf(viewOf(blocksAfter(plan, amendments)).view))).toEqual([
			[1, 'pads'],
			[3, 'skipping']
		]);
	});

	it('is drawn with a line before each but the first, and named where there is room', () => {
		const { view } = viewOf(blocksOf(plan));
		const rope = bareRopeOf(view);
		const geometry = ropeGeometry(6, 634, 100);
		expect(blocksOnRope(rope, geometry)).toEqual([
			{ fromPx: 34, isNamed: true, words: 'pads', isFirst: true },
			{ fromPx: 234, isNamed: true, words: 'bag', isFirst: false },
			{ fromPx: 534, isNamed: true, words: 'skipping', isFirst: false }
		]);
		const narrow = blocksOnRope(rope, ropeGeometry(6, 154, 100));
		expect(narrow.map(({ isNamed }) => isNamed)).toEqual([false, true, false]);
	});

	it('says in words what is done where, and is another rope where that changes', () => {
		const rope = bareRopeOf(viewOf(blocksOf(plan)).view);
		expect(ropeWords(rope)).toBe(
			'Rounds so far: pads: round 1 to come; round 2 to come; bag: round 3 to come; round 4 to come; round 5 to come; skipping: round 6 to come'
		);
		const other = bareRopeOf(viewOf(blocksOf({ ...plan, activity: 'circuit' })).view);
		expect(isSameRope(rope, other)).toBe(false);
	});
});
