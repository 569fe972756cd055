import { describe, expect, it } from 'vitest';
import { byActivity, chiefWork, countingRests } from '$lib/review/drops-by-activity';
import { makeRound } from './session-builders';

const of = (activity: 'pads' | 'bag', ...rounds: ReturnType<typeof makeRound>[]) =>
	rounds.map((round) => ({ ...round, activity }));
const dropsOf = (rounds: ReturnType<typeof makeRound>[]) => countingRests(rounds).map(({ drop60 }) => drop60);

describe('the rests whose drops count', () => {
	it('are the judged ones, and where none was judged those that were measured', () => {
		const easy = makeRound(2, 25, 'not judged');
		expect(dropsOf([makeRound(1, 41), easy, makeRound(3, undefined)])).toEqual([41]);
		expect(dropsOf([easy, makeRound(3, undefined)])).toEqual([25]);
		expect(dropsOf([makeRound(1, undefined), { ...makeRound(2, 40), rest: undefined }])).toEqual([]);
	});
});

describe('rounds by what was done', () => {
	it('stand in the order in which it was first done', () => {
		const rounds = [
			...of('bag', makeRound(1, 40)),
			...of('pads', makeRound(2, 41)),
			...of('bag', makeRound(3, 42))
		];
		expect(byActivity(rounds).map(({ activity, rounds: same }) => [activity, same.length])).toEqual([
			['bag', 2],
			['pads', 1]
		]);
		expect(byActivity([makeRound(1, 40)])[0]).not.toHaveProperty('activity');
	});

	it('are chiefly that with the most drops, the first of equals', () => {
		const pads = of('pads', makeRound(1, 40));
		expect(chiefWork([...pads, ...of('bag', makeRound(2, 40))]).activity).toBe('pads');
		expect(chiefWork([...pads, ...of('bag', makeRound(2, 40), makeRound(3, 40))]).activity).toBe('bag');
		expect(chiefWork([])).toEqual({ rounds: [] });
	});
});
