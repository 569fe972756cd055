import { ageIn, ageOn } from '$lib/review/age';
import { beats } from '$lib/review/beats';
import { clockWords, lengthWords } from '$lib/review/clock-words';
import { dateOf, dayNumber, lastDays } from '$lib/review/day-numbers';
import { turnWords } from '$lib/review/turn-words';
import type { RoundRange } from '$lib/rounds/round-ranges';
import type { StrapChange } from '$lib/record/head';
import { describe, expect, it } from 'vitest';

describe('a length', () => {
	it.each([
		[0, '0:00'],
		[1000, '0:01'],
		[1001.5, '0:02'],
		[59_500, '1:00'],
		[600_000, '10:00'],
		[3_599_000, '59:59'],
		[6_000_000, '100:00']
	])('of %d ms stands on a gym clock as %s, a second that has begun counted whole', (ms, words) => {
		expect(clockWords(ms)).toBe(words);
	});

	it('is rounding, and no second that has begun, by a thousandth of one', () => {
		expect(clockWords(60_000.9)).toBe('1:00');
	});

	it.each([
		[0, '0 seconds'],
		[90_400, '90 seconds'],
		[119_000, '119 seconds'],
		[120_000, '2 minutes'],
		[209_000, '3 minutes'],
		[211_000, '4 minutes']
	])('of %d ms is told as %s', (ms, words) => {
		expect(lengthWords(ms)).toBe(words);
	});
});

it('beats are whole, and none is "-0"', () => {
	expect([41.5, 41.4, 0, -0.4, -12.6].map(beats)).toEqual([42, 41, 0, 0, -13]);
	expect(Object.is(beats(-0.2), 0)).toBe(true);
});

describe('an age', () => {
	it('is what somebody reaches in a year, and unknown without a year of birth', () => {
		expect(ageIn(2026, { birthYear: 2008 })).toBe(18);
		expect(ageOn('2026-01-01', { birthYear: 2008 })).toBe(18);
		expect(ageOn('2025-12-31', { birthYear: 2008 })).toBe(17);
		expect(ageOn('2026-01-01', {})).toBeUndefined();
	});
});

describe('days that are counted', () => {
	// POSIX.1-2017, 4.16 "Seconds Since the Epoch": 86,400 seconds to each day of the calendar since 1970-01-01; a leap
	// day in 2024 and none in 2100.
	it('go by the calendar, over leap days and turns of the year', () => {
		expect(dayNumber('1970-01-01')).toBe(0);
		expect(dayNumber('1970-02-01')).toBe(31);
		expect(dayNumber('2024-03-01') - dayNumber('2024-02-28')).toBe(2);
		expect(dayNumber('2100-03-01') - dayNumber('2100-02-28')).toBe(1);
		for (const date of ['1999-12-31', '2024-02-29', '2026-03-29']) expect(dateOf(dayNumber(date))).toBe(date);
	});

	it('end with today, newest first', () => {
		expect(lastDays('2026-03-01', 3)).toEqual(['2026-03-01', '2026-02-28', '2026-02-27']);
		expect(lastDays('2026-03-01', 0)).toEqual([]);
	});
});

describe('the rounds in which a strap was worn', () => {
	const putOn: StrapChange = { ms: 400_000, strapName: 'Red', practice: false, handOver: 'put on' };
	const words = (rounds: number[], turn?: RoundRange[], strapChanges = [putOn]) =>
		turnWords(
			{ strapChanges, turn },
			rounds.map((round) => ({ round }))
		);

	it('are not told of somebody who wore one all the time, or only changed it', () => {
		expect(turnWords({}, [{ round: 1 }])).toBeUndefined();
		expect(words([1, 2], undefined, [{ ms: 5, strapName: 'Blue', practice: false }])).toBeUndefined();
	});

	it('are told as ranges, a round that was boxed again once', () => {
		expect(words([4])).toBe('With a strap in round 4. The other rounds are not measured.');
		expect(words([4, 4, 5, 6, 9])).toBe('With a strap in rounds 4-6, 9. The other rounds are not measured.');
		expect(words([])).toBe('With a strap in no round: none is measured.');
	});

	it('stand beside what was planned where that was something else', () => {
		expect(words([4, 5], [{ from: 4, to: 5 }])).toBe(
			'With a strap in rounds 4-5. The other rounds are not measured.'
		);
		expect(words([4, 5, 6], [{ from: 4, to: 5 }])).toBe(
			'With a strap in rounds 4-6; the plan said 4-5. The other rounds are not measured.'
		);
	});
});
