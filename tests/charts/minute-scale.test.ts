import { describe, expect, it } from 'vitest';
import { minuteScale } from '$lib/charts/minute-scale';

describe('the scale of the rests laid over each other', () => {
	it('gives a rest of a minute the whole width', () => {
		const { xOf, end, ticks } = minuteScale([60, 60, 42]);
		expect(end).toBe(60);
		expect(xOf(60)).toBe(60);
		expect(ticks.map(({ text }) => text)).toEqual(['bell', '0:15', '0:30', '0:45', '1:00']);
	});

	it('keeps the minute at four fifths of the width, however long a rest goes on', () => {
		// By hand: the two minutes beyond lie on 15 of 75 parts, so second 120 lies at 67.5.
		const { xOf, end, ticks } = minuteScale([60, 180]);
		expect(end).toBe(75);
		expect([30, 60, 120, 180].map(xOf)).toEqual([30, 60, 67.5, 75]);
		expect(ticks.at(-1)).toEqual({ x: 75, text: '3:00' });
	});

	it('draws a few seconds more as they are', () => {
		const { xOf, end, ticks } = minuteScale([66]);
		expect(end).toBe(66);
		expect(xOf(66)).toBe(66);
		expect(ticks.at(-1)!.text).toBe('1:00');
	});
});
