import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import {
	countOf,
	coverageOf,
	isContactSupported,
	meanOf,
	secondsOf,
	type Reading
} from '$lib/physiology/grid';
import { makeReading } from './builders';

const gridOf = (readings: Partial<Reading>[], lengthS: number, fromMs = 0) =>
	Array.from(secondsOf(readings.map(makeReading), fromMs, lengthS));

describe('secondsOf', () => {
	it('gives each second the last reading before its end', () => {
		const readings = [
			{ ms: 100, bpm: 150 },
			{ ms: 900, bpm: 151 },
			{ ms: 1000, bpm: 152 },
			{ ms: 2999, bpm: 153 }
		];
		expect(gridOf(readings, 3)).toEqual([151, 152, 153]);
	});

	it('holds a reading for 2 s at most, counted to the end of the second', () => {
		expect(gridOf([{ ms: 0, bpm: 150 }], 4)).toEqual([150, 150, NaN, NaN]);
		expect(gridOf([{ ms: 999, bpm: 150 }], 4)).toEqual([150, 150, NaN, NaN]);
		expect(gridOf([{ ms: 1000, bpm: 150 }], 4)).toEqual([NaN, 150, 150, NaN]);
	});

	it('uses readings from before its origin, and negative times', () => {
		expect(gridOf([{ ms: -1000, bpm: 149 }], 2)).toEqual([149, NaN]);
		expect(gridOf([{ ms: -1001, bpm: 149 }], 2)).toEqual([NaN, NaN]);
		expect(gridOf([{ ms: -4500, bpm: 149 }], 2, -5000)).toEqual([149, 149]);
	});

	it.each([0, 29, 241, 65535, NaN])('makes a gap of %s bpm until the next good reading', (bpm) => {
		const readings = [
			{ ms: 500, bpm: 150 },
			{ ms: 1500, bpm },
			{ ms: 2500, bpm: 152 }
		];
		expect(gridOf(readings, 3)).toEqual([150, NaN, 152]);
	});

	it.each([30, 240])('takes %s bpm', (bpm) => {
		expect(gridOf([{ ms: 0, bpm }], 1)).toEqual([bpm]);
	});

	it('leaves out what comes from a moment on, also where its last second reaches beyond', () => {
		const readings = [
			{ ms: 500, bpm: 150 },
			{ ms: 1960, bpm: 151 },
			{ ms: 1970, bpm: 152 }
		].map(makeReading);
		expect(Array.from(secondsOf(readings, 0, 2))).toEqual([150, 152]);
		expect(Array.from(secondsOf(readings, 0, 2, 1970))).toEqual([150, 151]);
		expect(Array.from(secondsOf(readings, 0, 2, 1960))).toEqual([150, 150]);
	});

	it('makes a gap without contact, unless contact means nothing on this strap', () => {
		const readings = [makeReading({ ms: 0, contact: 'no contact' })];
		expect(Array.from(secondsOf(readings, 0, 1))).toEqual([NaN]);
		expect(gridOf([{ ms: 0, contact: 'not supported' }], 1)).toEqual([150]);
	});

	it('keeps the order of arrival of a burst with one stamp', () => {
		const burst = [140, 141, 142].map((bpm) => ({ ms: 700, bpm }));
		expect(gridOf(burst, 1)).toEqual([142]);
	});

	it('says what a grid needs when it is asked for an endless or a negative one', () => {
		expect(() => secondsOf([], 0, Infinity)).toThrow(/finite start and a length of 0 s or more/);
		expect(() => secondsOf([], 0, -1)).toThrow(RangeError);
		expect(() => secondsOf([], NaN, 10)).toThrow(RangeError);
	});

	const anyReadings = fc
		.array(
			fc.record({
				stepMs: fc.integer({ min: 0, max: 5000 }),
				bpm: fc.integer({ min: 0, max: 260 }),
				contact: fc.constantFrom<Reading['contact']>('not supported', 'no contact', 'contact')
			}),
			{ maxLength: 80 }
		)
		.map((steps) => {
			let ms = -10_000;
			return steps.map(({ stepMs, bpm, contact }): Reading => ({ ms: (ms += stepMs), bpm, contact }));
		});

	it('agrees with the definition read entry by entry', () => {
		fc.assert(
			fc.property(anyReadings, fc.integer({ min: -20_000, max: 60_000 }), (readings, fromMs) => {
				const byDefinition = Array.from({ length: 30 }, (_, i) => {
					const endMs = fromMs + (i + 1) * 1000;
					const last = readings.filter(({ ms }) => ms < endMs).at(-1);
					if (!last || endMs - last.ms > 2000 || last.contact === 'no contact') return NaN;
					return last.bpm >= 30 && last.bpm <= 240 ? last.bpm : NaN;
				});
				expect(Array.from(secondsOf(readings, fromMs, 30))).toEqual(byDefinition);
			})
		);
	});

	it('shifts nothing when readings and origin shift by whole seconds', () => {
		fc.assert(
			fc.property(anyReadings, fc.integer({ min: 0, max: 20_000 }), (readings, byS) => {
				const later = readings.map((reading) => ({ ...reading, ms: reading.ms + byS * 1000 }));
				expect(secondsOf(later, byS * 1000, 30)).toEqual(secondsOf(readings, 0, 30));
			})
		);
	});
});

describe('isContactSupported', () => {
	const sixty = (overrides: Partial<Reading>) => Array.from({ length: 60 }, () => makeReading(overrides));

	it('is not, where 60 plausible rates come without one contact', () => {
		expect(isContactSupported(sixty({ contact: 'no contact' }))).toBe(false);
		expect(isContactSupported(sixty({ contact: 'not supported' }))).toBe(false);
	});

	it('is, as soon as one of the first 60 readings has contact', () => {
		const readings = sixty({ contact: 'no contact' });
		readings[59] = makeReading();
		expect(isContactSupported(readings)).toBe(true);
		expect(isContactSupported([makeReading()])).toBe(true);
		expect(isContactSupported([...sixty({ contact: 'no contact' }), makeReading()])).toBe(false);
	});

	it('is, where the rates are implausible as well: the strap lies on the table', () => {
		expect(isContactSupported(sixty({ contact: 'no contact', bpm: 0 }))).toBe(true);
	});

	it('stays open before the 60th reading', () => {
		expect(isContactSupported(sixty({ contact: 'no contact' }).slice(1))).toBeUndefined();
	});
});

describe('windows over a grid', () => {
	const grid = Float64Array.of(150, NaN, 154, NaN, NaN);

	it('means over what has a value and refuses under the least number', () => {
		expect(meanOf(grid, 0, 3)).toBe(152);
		expect(meanOf(grid, 0, 3, 3)).toBeUndefined();
		expect(meanOf(grid, 3, 5)).toBeUndefined();
		expect(meanOf(grid, 3, 5, 0)).toBeUndefined();
		expect(meanOf(grid, 2, 2)).toBeUndefined();
	});

	it('refuses a mean over a window that leaves the grid', () => {
		expect(meanOf(grid, -1, 3)).toBeUndefined();
		expect(meanOf(grid, 0, 6)).toBeUndefined();
		expect(meanOf(grid, NaN, 3)).toBeUndefined();
	});

	it('counts what lies outside the grid as uncovered', () => {
		expect(countOf(grid, -5, 99)).toBe(2);
		expect(coverageOf(grid, 0, 4)).toBe(0.5);
		expect(coverageOf(grid, 0, 8)).toBe(0.25);
		expect(coverageOf(grid, 4, 4)).toBeUndefined();
	});
});
