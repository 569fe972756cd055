import { describe, expect, it } from 'vitest';
import { blockRows } from '$lib/review/block-rows';
import type { RoundSummary } from '$lib/record/summary';
import { makeBlock, makePlan } from '../rounds/plans';
import { athlete } from '../session/builders';

const known = { ...athlete, thresholdBpm: 170 };
const round = (number: number, of: Partial<RoundSummary> = {}) =>
	({ round: number, attempt: 1, startMs: number, endMs: number + 1, ...of }) as RoundSummary;
const time = (inS: number, belowS: number, aboveS: number) => ({ aim: { inS, belowS, aboveS, unknownS: 4 } });
const rowsOf = (plan: object, rounds: RoundSummary[], athlete: object = known) =>
	blockRows({ plan: makePlan(plan), amendments: [], athlete: athlete as typeof known }, rounds);
const told = (rows: ReturnType<typeof blockRows>) =>
	rows.map(({ title, aim, rounds }) => [title, aim, rounds.map((one) => one.round)]);

describe('the rounds by blocks', () => {
	it('say of each what was done, at what it aimed, and how long it was there', () => {
		const blocks = [makeBlock({ aim: { kind: 'effort', effort: 6 } }), makeBlock({ activity: 'skipping' })];
		const rounds = [
			round(1, time(100, 30, 0)),
			round(2, time(60, 10, 5)),
			round(3, { block: 2 }),
			round(4, { block: 3 })
		];
		expect(told(rowsOf({ aim: { kind: 'near threshold' }, blocks }, rounds))).toEqual([
			[
				'Block 1: pads',
				'Aim: near the threshold, 153 to 170. In it 2:40 of 3:25; below 0:40, above 0:05.',
				[1, 2]
			],
			['Block 2: bag', 'Aim: effort 6.', [3]],
			['Block 3: skipping', undefined, [4]]
		]);
	});

	it('say nothing of a session of one block without an aim, and name no number where there is one with', () => {
		expect(told(rowsOf({}, [round(1)]))).toEqual([[undefined, undefined, [1]]]);
		expect(told(rowsOf({ aim: { kind: 'fight pace' } }, [round(1, time(0, 0, 0))]))).toEqual([
			['All rounds: pads', 'Aim: fight pace, 171 and over. No second of it could be judged.', [1]]
		]);
	});

	it('go by effort where nothing known measures the aim', () => {
		expect(told(rowsOf({ aim: { kind: 'easy' } }, [round(1)], { name: 'Bao' }))).toEqual([
			['All rounds: pads', 'Aim: easy (no threshold: go by effort).', [1]]
		]);
	});
});
