import { dayWords, momentWords, paperDayWords, paperMomentWords, shortDayWords } from '$lib/review/day-words';
import { describe, expect, test } from 'vitest';

// Days of the week from the civil calendar: 26 November 2026 is a Thursday, 4 September 2025 one as well.
describe('one form for every date', () => {
	const at = '2026-11-26T18:00:00Z';
	const nowMs = Date.parse('2026-12-30T12:00:00Z');

	test('a day of this year goes without its year', () => {
		expect(dayWords(at, { zone: 'UTC', nowMs })).toBe('Thu 26 Nov');
		expect(momentWords(at, { zone: 'UTC', nowMs })).toBe('Thu 26 Nov, 18:00');
	});

	test('a day of another year has it', () => {
		expect(momentWords('2025-09-04T07:05:00Z', { zone: 'UTC', nowMs })).toBe('Thu 4 Sep 2025, 07:05');
	});

	test('the clock and the year are those of the zone that is named', () => {
		const nearMidnight = '2026-12-31T23:30:00Z';
		expect(momentWords(nearMidnight, { zone: 'Asia/Tokyo', nowMs })).toBe('Fri 1 Jan 2027, 08:30');
		expect(momentWords('2026-11-26T00:15:00Z', { zone: 'UTC', nowMs })).toBe('Thu 26 Nov, 00:15');
	});

	test('paper always has the year, a picture never', () => {
		expect(paperDayWords(at, 'UTC')).toBe('Thu 26 Nov 2026');
		expect(paperMomentWords(at, 'UTC')).toBe('Thu 26 Nov 2026, 18:00');
		expect(shortDayWords(at, 'UTC')).toBe('26 Nov');
	});
});
