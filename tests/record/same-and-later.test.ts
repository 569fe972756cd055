import { grouped } from '$lib/record/grouped';
import { isSame, textOf } from '$lib/record/same';
import { after, fileMoment, isLater } from '$lib/record/stamp';
import { describe, expect, it } from 'vitest';

describe('of two words that contradict each other', () => {
	const noon = '2026-03-02T12:00:00.000Z';
	const later = '2026-03-02T12:00:00.001Z';

	it('the later one holds, and at one moment that of the machine whose id comes later', () => {
		expect(isLater({ at: later, by: 'a' }, { at: noon, by: 'b' })).toBe(true);
		expect(isLater({ at: noon, by: 'b' }, { at: later, by: 'a' })).toBe(false);
		expect(isLater({ at: noon, by: 'b' }, { at: noon, by: 'a' })).toBe(true);
		expect(isLater({ at: noon, by: 'a' }, { at: noon, by: 'b' })).toBe(false);
	});

	it('neither holds against itself, and one without a moment against none that has one', () => {
		expect(isLater({ at: noon, by: 'a' }, { at: noon, by: 'a' })).toBe(false);
		expect(isLater({ at: '', by: 'z' }, { at: noon, by: 'a' })).toBe(false);
	});

	it('a word said in knowledge of another is later than it, whatever the clock says', () => {
		const noonMs = Date.parse(noon);
		expect(after('', noonMs, 'a')).toBe(noon);
		expect(after(noon, noonMs + 5000, 'a')).toBe('2026-03-02T12:00:05.000Z');
		for (const wantedMs of [noonMs, noonMs - 86_400_000])
			for (const said of ['a', 'b', undefined, { kg: 61 }]) {
				const laterByMs = Date.parse(after(noon, wantedMs, said)) - noonMs;
				expect(laterByMs).toBeGreaterThan(0);
				expect(laterByMs).toBeLessThanOrEqual(1000);
			}
	});

	it('something else that is said by a clock that is behind has another moment, and the same has the same', () => {
		const moments = Array.from({ length: 20 }, (_, bpm) => after(noon, 0, { bpm }));
		expect(new Set(moments).size).toBeGreaterThan(15);
		expect(after(noon, 0, { bpm: 3 })).toBe(moments[3]);
	});

	it('the moment in the name of a file is later than all that it tells of, and another for another content', () => {
		const moments = ['a', 'b'].map((content) => fileMoment(later, noon, content));
		for (const moment of moments) expect(moment > later).toBe(true);
		expect(moments[0]).not.toBe(moments[1]);
		expect(fileMoment('', noon, 'a') > noon).toBe(true);
	});
});

describe('values that are compared', () => {
	it('are the same in whatever order their members stand, at any depth', () => {
		expect(isSame({ a: 1, b: { c: 2, d: [3] } }, { b: { d: [3], c: 2 }, a: 1 })).toBe(true);
		expect(textOf({ b: 1, a: null })).toBe('{"a":null,"b":1}');
	});

	it('are others where a list has another order, or something is missing', () => {
		expect(isSame([1, 2], [2, 1])).toBe(false);
		expect(isSame({ a: 1 }, { a: 1, b: 2 })).toBe(false);
		expect(isSame(undefined, { a: 1 })).toBe(false);
		expect(isSame(undefined, undefined)).toBe(true);
	});
});

it('a list by what its items have in common keeps their order, and that of the groups', () => {
	const groups = grouped(['bag', 'pads', 'bell', 'pause', 'bout'], (word) => word[0]);
	expect([...groups]).toEqual([
		['b', ['bag', 'bell', 'bout']],
		['p', ['pads', 'pause']]
	]);
});
