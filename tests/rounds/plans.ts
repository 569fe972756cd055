import { amendmentKinds, type Amendment } from '$lib/rounds/amendment';
import type { Block, Plan } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import fc from '../by-chance';

/** Three rounds of three minutes with nothing before or after, unless told. */
export function makePlan(overrides: Partial<Plan> = {}): Plan {
	return {
		name: 'Tuesday pads',
		activity: 'pads',
		roundCount: 3,
		roundS: 180,
		restS: 60,
		warmUpS: 0,
		getReadyS: 0,
		coolDownS: 0,
		endWarningS: 10,
		startWarningS: 10,
		...overrides
	};
}

/** Two rounds of two minutes on the bag, two minutes after what lies before them, unless told. */
export function makeBlock(overrides: Partial<Block> = {}): Block {
	return { activity: 'bag', roundCount: 2, roundS: 120, restS: 30, pauseS: 120, ...overrides };
}

/** `pause@90` is a pause ninety seconds after Start. */
export function amendmentsOf(...entries: string[]): Amendment[] {
	return entries.map((entry) => {
		const [kind, seconds] = entry.split('@');
		return { kind: kind as Amendment['kind'], atMs: Number(seconds) * 1000 };
	});
}

/** A timeline as one line: `work 1 0-180, rest 1 180-240`, marks and attempts included. */
export function told(timeline: readonly Phase[]): string[] {
	return timeline.map(({ kind, round, attempt, block, toBlock, startMs, endMs, ...phase }) => {
		const marks = (['cutShort', 'stopped', 'repeated'] as const).filter((mark) => phase[mark]);
		const where = [block && `in ${block}`, toBlock && `to ${toBlock}`];
		const name = [kind, round, attempt && `again ${attempt}`, ...where].filter((part) => part !== undefined);
		return [...name, `${startMs / 1000}-${endMs / 1000}`, ...marks].join(' ');
	});
}

const planMembers = {
	name: fc.constant('any'),
	activity: fc.constant('bag' as const),
	roundCount: fc.integer({ min: 1, max: 6 }),
	roundS: fc.integer({ min: 1, max: 240 }),
	restS: fc.integer({ min: 1, max: 120 }),
	warmUpS: fc.integer({ min: 0, max: 60 }),
	getReadyS: fc.integer({ min: 0, max: 20 }),
	coolDownS: fc.integer({ min: 0, max: 60 }),
	endWarningS: fc.integer({ min: 0, max: 15 }),
	startWarningS: fc.integer({ min: 0, max: 15 })
};

export const anyBlock: fc.Arbitrary<Block> = fc
	.record({
		activity: fc.constantFrom('bag' as const, 'pads' as const, 'skipping' as const),
		roundCount: fc.integer({ min: 1, max: 4 }),
		roundS: planMembers.roundS,
		restS: planMembers.restS,
		pauseS: fc.integer({ min: 1, max: 200 }),
		byHeart: fc.boolean()
	})
	.map(({ byHeart, ...block }) => (byHeart ? { ...block, restDownToPercent: 80 } : block));

/** A plan that the page rings, of one block or several, with rests by heart or without. */
export const anyPlan = fc
	.record({
		plan: fc.record(planMembers),
		byHeart: fc.boolean(),
		blocks: fc.array(anyBlock, { maxLength: 3 })
	})
	.map(({ plan, byHeart, blocks }): Plan => ({
		...plan,
		...(byHeart && { restDownToPercent: 75 }),
		...(blocks.length > 0 && { blocks })
	}));

/** Amendments in order of time, possible or not; now and then one that runs backwards. */
export const anyAmendments: fc.Arbitrary<Amendment[]> = fc
	.array(
		fc.record({
			kind: fc.constantFrom(...amendmentKinds),
			block: fc.option(anyBlock, { nil: undefined }),
			stepMs: fc.oneof(
				{ weight: 9, arbitrary: fc.integer({ min: 0, max: 200_000 }) },
				{ weight: 1, arbitrary: fc.constantFrom(-5000, 0, 60_000) }
			)
		}),
		{ maxLength: 12 }
	)
	.map((steps) => {
		let atMs = 0;
		return steps.map(({ kind, block, stepMs }) => ({
			kind,
			atMs: (atMs += stepMs),
			...(kind === 'add block' && block && { block })
		}));
	});
