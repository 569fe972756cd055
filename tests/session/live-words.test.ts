import { describe, expect, it } from 'vitest';
import { defaultBurstS } from '$lib/physiology/over-threshold';
import { blocksOf } from '$lib/rounds/blocks';
import { timelineOf, phaseAfter } from '$lib/rounds/timeline';
import type { CornerView, LiveView } from '$lib/session/live-view';
import { lastDropWords, nextWords, overWords, phaseTitle } from '$lib/session/live-words';
import { makeBlock } from '../rounds/plans';
import { shortPlan } from './builders';

const plan = { ...shortPlan, roundS: 180, coolDownS: 300 };
const timeline = timelineOf(plan);
const blocks = blocksOf(plan);

describe('what the rail says of what comes next', () => {
	const after = (index: number, view: Partial<LiveView> = {}) =>
		nextWords({ phase: timeline[index], next: phaseAfter(timeline, timeline[index]), blocks, ...view });

	it('is its name and how long it lasts, to the end', () => {
		expect(timeline.map((_, i) => after(i))).toEqual([
			{ name: 'Round 1', length: '3:00' },
			{ name: 'Rest', length: '1:00' },
			{ name: 'Round 2', length: '3:00' },
			{ name: 'The last minute', length: '1:00' },
			{ name: 'Cool-down', length: '5:00' },
			{ name: 'Review' }
		]);
	});

	it('has no length where hearts end the rest, or the gym’s own bell', () => {
		const [next] = timelineOf({ ...plan, restDownToPercent: 75 }).filter(({ kind }) => kind === 'rest');
		expect(after(1, { next })).toEqual({ name: 'Rest', length: 'until recovered' });
		const hall = (index: number) => nextWords({ phase: timeline[index], followsGymBell: true, blocks });
		expect([hall(0), hall(1), hall(2)]).toEqual([
			{ name: 'Round 1', length: 'at the bell' },
			{ name: 'Rest', length: 'at the bell' },
			{ name: 'Round 2', length: 'at the bell' }
		]);
	});
});

describe('a session of several blocks', () => {
	const several = { ...plan, roundCount: 1, blocks: [makeBlock({ activity: 'skipping', roundCount: 2 })] };
	const of = timelineOf(several);
	const view = (index: number) => ({
		phase: of[index],
		next: phaseAfter(of, of[index]),
		roundCount: 3,
		blocks: blocksOf(several)
	});

	it('says what is done in what runs, and in the block that a pause leads to', () => {
		expect([0, 1, 2, 3].map((i) => of[i + of.findIndex(({ kind }) => kind === 'work')]!.kind)).toEqual([
			'work',
			'rest',
			'work',
			'rest'
		]);
		const first = of.findIndex(({ kind }) => kind === 'work');
		expect([0, 1, 2, 3].map((i) => phaseTitle(view(first + i)))).toEqual([
			'Round 1 of 3 · pads',
			'Pause before block 2 · skipping',
			'Round 2 of 3 · skipping',
			'Rest after round 2 · skipping'
		]);
		expect([0, 1, 2].map((i) => nextWords(view(first + i)))).toEqual([
			{ name: 'Pause', length: '2:00', block: 'skipping' },
			{ name: 'Round 2', length: '2:00', block: 'skipping' },
			{ name: 'Rest', length: '0:30' }
		]);
	});
});

describe('the line of the time over the threshold', () => {
	const over = { overS: 84, burstOverS: 0, longestS: 60, spells: 2, workS: 180, coverage: 1 };
	const bands = { 'over threshold': 421 } as CornerView['bands'];

	it('has round and session in minutes and seconds, and the closing burst where there is some', () => {
		expect(overWords({ over, bands })).toEqual({ round: '1:24', session: '7:01' });
		expect(overWords({ over: { ...over, burstOverS: defaultBurstS }, bands })?.burst).toBe('0:10');
	});

	it('is none before the first round, or without a threshold', () => {
		expect(overWords({})).toBeUndefined();
	});
});

describe('the line of the last drop', () => {
	const rest = (round: number, measure: object) => ({ round, rest: { round, measure } });
	const words = (...rounds: object[]) => lastDropWords({ rounds: rounds as unknown as CornerView['rounds'] });

	it('is that of the last rest there was, with its verdict', () => {
		expect(
			words(
				rest(1, { drop60: 44, rate60: 120, verdict: 'in the band', nearEdge: false }),
				rest(2, { drop60: 36.6, rate60: 131.4, verdict: 'under the band', nearEdge: true }),
				{ round: 3 }
			)
		).toEqual({ round: 2, drop: 37, rate60: 131, verdict: 'too close to call' });
	});

	it('says that a rest has none, and is none before the first', () => {
		expect(words(rest(1, { verdict: 'not judged', nearEdge: false }))).toEqual({
			round: 1,
			verdict: 'not judged'
		});
		expect(words({ round: 1 })).toBeUndefined();
	});
});
