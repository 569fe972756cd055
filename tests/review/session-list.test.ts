import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
	byWeek,
	choiceIn,
	hashOf,
	isNarrow,
	listedResult,
	narrowed,
	type ListChoice
} from '$lib/review/session-list';
import type { KeptSession } from '$lib/review/progress';
import { makeHead } from '../store/builders';
import { makeRest, summaryOf } from './kept-session';
import { makeRound } from './session-builders';

const zone = process.env.TZ;
beforeEach(() => {
	process.env.TZ = 'Europe/Lisbon';
});
afterEach(() => {
	if (zone === undefined) delete process.env.TZ;
	else process.env.TZ = zone;
});

const kept = (startedAt: string, overrides: Partial<KeptSession> = {}): KeptSession => ({
	head: makeHead({ id: startedAt, startedAt }),
	edit: {},
	...overrides
});

describe('the list of sessions by week', () => {
	it('begins a week on Monday, by the calendar here (ISO 8601: Monday is the first day of a week)', () => {
		// 2026-11-23 is a Monday: ISO week 48 of 2026.
		const sunday = kept('2026-11-29T23:30:00.000Z');
		const monday = kept('2026-11-23T00:10:00.000Z');
		const before = kept('2026-11-22T23:50:00.000Z');
		const weeks = byWeek([sunday, monday, before]);
		expect(weeks.map(({ mondayMs }) => new Date(mondayMs).toISOString())).toEqual([
			'2026-11-23T00:00:00.000Z',
			'2026-11-16T00:00:00.000Z'
		]);
		expect(weeks.map(({ sessions }) => sessions)).toEqual([[sunday, monday], [before]]);
	});

	it('goes by the clock of the country, over a change of it as well', () => {
		// Summer time ended in Lisbon on 2026-10-25 at 01:00 UTC; Monday 26 October begins at 00:00 UTC, Monday 19 at 23:00.
		const weeks = byWeek([kept('2026-10-26T00:05:00.000Z'), kept('2026-10-25T23:55:00.000Z')]);
		expect(weeks.map(({ mondayMs }) => new Date(mondayMs).toISOString())).toEqual([
			'2026-10-26T00:00:00.000Z',
			'2026-10-18T23:00:00.000Z'
		]);
	});
});

describe('what somebody looks for in the list', () => {
	const bag = kept('2026-11-23T18:00:00.000Z', {
		edit: { title: 'Zoë on the heavy one', note: 'hands drop', activity: 'bag' }
	});
	const run = kept('2026-11-24T18:00:00.000Z', {
		head: makeHead({ id: 'r', plan: { ...makeHead().plan, name: 'Threshold run', kind: 'threshold run' } })
	});

	it('is found by the words of title, plan, note and name, in any order and without accents', () => {
		const finds = (find: string) => narrowed([bag, run], { find }, [{ id: 'ath-1', name: 'Ody' }]);
		expect(finds('zoe')).toEqual([bag]);
		expect(finds('DROP heavy')).toEqual([bag]);
		expect(finds('threshold')).toEqual([run]);
		expect(finds('ody')).toEqual([bag, run]);
		expect(finds('heavy threshold')).toEqual([]);
		expect(finds(' ')).toEqual([bag, run]);
	});

	it('is what was done as put right, or the tests alone', () => {
		expect(narrowed([bag, run], { activity: 'bag' }, [])).toEqual([bag]);
		expect(narrowed([bag, run], { isTest: true }, [])).toEqual([run]);
	});

	it('stands in the address and is read from it again', () => {
		const choice = { athleteId: 'ath-1', activity: 'bag', isTest: true, find: 'heavy & left' } as const;
		expect(choiceIn(hashOf(choice))).toEqual(choice);
		expect(hashOf({})).toBe('');
		expect(choiceIn('#of=ath-1')).toEqual({ athleteId: 'ath-1' });
		expect(choiceIn('#did=nothing&deleted=x')).toEqual({});
		expect(choiceIn('#of=&find=')).toEqual({});
		expect(choiceIn('')).toEqual({});
		expect(hashOf({ athleteId: 'ath-1', activity: 'bag' })).toBe('#of=ath-1&did=bag');
		expect(hashOf({ isTest: true, find: 'a b' })).toBe('#tests=&find=a+b');
	});

	it('narrows nothing by blanks or by whose the sessions are', () => {
		expect(isNarrow({ athleteId: 'ath-1', find: '  ' })).toBe(false);
		expect(isNarrow({})).toBe(false);
		expect(isNarrow({ activity: 'bag' })).toBe(true);
		expect(isNarrow({ isTest: true })).toBe(true);
		expect(isNarrow({ find: 'left' })).toBe(true);
	});

	it('has a session of several activities under each of them', () => {
		const rounds = (['bag', 'pads'] as const).map((activity, i) => ({ ...makeRound(i + 1, 40), activity }));
		const both = kept('2026-11-25T18:00:00.000Z', { summary: summaryOf([], { rounds }) });
		const finds = (choice: ListChoice) => narrowed([both, bag], choice, []);
		expect(finds({ activity: 'pads' })).toEqual([both]);
		expect(finds({ activity: 'bag' })).toEqual([both, bag]);
		expect(finds({ activity: 'sparring' })).toEqual([]);
	});

	it('is found by words of different places together, and by all it is narrowed to', () => {
		expect(narrowed([bag, run], { find: 'ody hands' }, [{ id: 'ath-1', name: 'Ódy' }])).toEqual([bag]);
		expect(narrowed([bag, run], { isTest: true, find: 'hands' }, [])).toEqual([]);
		// Without a card the name noted with the session serves.
		expect(narrowed([bag, run], { find: 'nerea' }, [])).toEqual([bag, run]);
	});
});

describe('the one figure of a session', () => {
	const resultOf = (summary: KeptSession['summary']) =>
		listedResult(kept('2026-11-24T18:00:00.000Z', { summary }));

	it('is the threshold of a run and the rate of a measurement at rest, never their drops', () => {
		const guided = { reasons: [] };
		expect(
			resultOf(summaryOf([40], { guided: { ...guided, kind: 'threshold run', thresholdBpm: 161.6 } }))
		).toEqual({ figure: 162, words: 'threshold' });
		expect(resultOf(summaryOf([40], { guided: { ...guided, kind: 'resting', restBpm: 51.2 } }))).toEqual({
			figure: 51,
			words: 'resting rate'
		});
		expect(resultOf(summaryOf([40], { guided: { ...guided, kind: 'threshold run' } }))).toBeUndefined();
	});

	it('is the 1-minute drop of all else', () => {
		expect(resultOf(summaryOf([40, 45]))).toEqual({ figure: 43, words: '1-minute drop' });
		expect(resultOf(undefined)).toBeUndefined();
		// A recovery check as well; where no rest was judged, the mean of those that were measured.
		const check = { kind: 'recovery check' as const, tauS: 61, reasons: [] };
		expect(resultOf(summaryOf([40], { guided: check }))).toEqual({ figure: 40, words: '1-minute drop' });
		const easy = summaryOf([30], { meanDrop60: 30 });
		easy.rounds[0]!.rest = makeRest(30, 'not judged');
		expect(resultOf(easy)).toEqual({ figure: 30, words: '1-minute drop' });
	});
});
