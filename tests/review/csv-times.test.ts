import { describe, expect, it } from 'vitest';
import { readNumber, readTime } from '$lib/review/csv-times';

describe('a moment in a cell', () => {
	it.each([
		['2026-03-02T17:00:30Z', '2026-03-02T17:00:30.000Z'],
		['2026-03-02 17:00:30Z', '2026-03-02T17:00:30.000Z'],
		['2026-03-02T17:00Z', '2026-03-02T17:00:00.000Z'],
		['2026-03-02T17:00:30.25Z', '2026-03-02T17:00:30.250Z'],
		['2026-03-02T17:00:30,5Z', '2026-03-02T17:00:30.500Z'],
		['2026-03-02T17:00:30+02:00', '2026-03-02T15:00:30.000Z'],
		['2026-03-02T17:00:30-0330', '2026-03-02T20:30:30.000Z'],
		['2026-12-31T23:59:59Z', '2026-12-31T23:59:59.000Z'],
		['2028-02-29T17:00:59.9Z', '2028-02-29T17:00:59.900Z']
	])('is read with its zone: %s', (text, startedAt) => {
		expect(readTime(text)).toEqual({ s: Date.parse(startedAt) / 1000, form: 'date and time', startedAt });
	});

	it('without a zone is the clock on the wall here, whichever way round its day is written', () => {
		const ms = new Date(2026, 2, 2, 17, 0, 30, 500).getTime();
		const told = { s: ms / 1000, form: 'date and time', startedAt: new Date(ms).toISOString() };
		expect(readTime('2026-03-02T17:00:30.5')).toEqual(told);
		expect(readTime('02.03.2026 17:00:30,5')).toEqual(told);
		expect(readTime('02.03.2026T17:00:30.5')).toEqual(told);
		expect(readTime('02.03.2026 17:00')?.startedAt).toBe(new Date(2026, 2, 2, 17).toISOString());
	});

	it.each([
		'2026-13-02T17:00:00Z',
		'2026-03-32T17:00:00Z',
		// It would be the midnight of the day after.
		'2026-03-02T24:00:00Z',
		'2026-03-02T17:60:00Z',
		'32.03.2026 17:00:00',
		'02.13.2026 17:00:00',
		'2026-00-02T17:00:00Z',
		'2026-02-30T17:00:00Z',
		'2026-02-29 17:00:00',
		'31.04.2026 10:00',
		'2026-03-00T17:00:00Z',
		'2026-03-02 17:00:60',
		'2026-03-02T17:00:75Z',
		'2026-03-02',
		'2026-03-02T17',
		'2026-03-02T17:00:00Z later',
		'at 2026-03-02T17:00:00Z',
		'2026-03-02T17:00:00.Z',
		'02.03.2026 17:00:00 later',
		'at 02.03.2026 17:00:00',
		'2.3.2026 17:00:00',
		'12026-03-02T17:00:00Z'
	])('is none where no calendar or clock has it, or where more stands beside it: %s', (text) => {
		expect(readTime(text)).toBeUndefined();
	});
});

describe('a time on a clock in a cell', () => {
	it.each([
		['0:00', 0],
		['1:05', 65],
		['59:59', 3599],
		// Minutes run on where there are no hours beside them.
		['90:00', 5400],
		['120:30', 7230],
		['1:00:00', 3600],
		['12:34:56', 45_296],
		['0:59:59', 3599],
		['0:01.5', 1.5],
		['0:01,25', 1.25],
		['0:59.9', 59.9]
	])('is so many seconds: %s', (text, s) => {
		expect(readTime(text)).toEqual({ s, form: 'hours, minutes, seconds' });
	});

	it.each([
		'0:60',
		'0:60.5',
		'1:60:00',
		'1:00:60',
		'1:99:99',
		'1:5',
		'1:005',
		'123:00:00',
		'1234:00',
		':30',
		'1:00 h',
		'at 1:00',
		'-1:00',
		'0:01.'
	])('is none where no clock shows it: %s', (text) => {
		expect(readTime(text)).toBeUndefined();
	});
});

describe('a bare number of a time in a cell', () => {
	it('is in the unit that its header names', () => {
		expect(readTime('90')).toEqual({ s: 90, form: 'seconds' });
		expect(readTime('1.5', 60)).toEqual({ s: 90, form: 'minutes' });
		expect(readTime('2500', 0.001)).toEqual({ s: 2.5, form: 'milliseconds' });
		expect(readTime('-3,5')).toEqual({ s: -3.5, form: 'seconds' });
		expect(readTime('soon')).toBeUndefined();
		expect(readTime('')).toBeUndefined();
	});
});

describe('a number in a cell', () => {
	it('has a decimal point or comma', () => {
		expect(['0', '12', '-7', '1.25', '1,25', '-0.5', '007'].map(readNumber)).toEqual([
			...[0, 12, -7, 1.25, 1.25, -0.5, 7]
		]);
	});

	it.each([
		'',
		' 1',
		'1 ',
		'.5',
		'1.',
		'1.2.3',
		'1,234,567',
		'1e3',
		'+1',
		'--1',
		'0x10',
		'Infinity',
		'1 000',
		'a1'
	])('is none otherwise: %j', (text) => {
		expect(readNumber(text)).toBeUndefined();
	});
});
