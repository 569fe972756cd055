import { excessIn, jsonIn } from '$lib/store/bounded-json';
import { describe, expect, it, vi } from 'vitest';

const nested = (levels: number) => '['.repeat(levels) + ']'.repeat(levels);
const lists = (count: number) => `[${'[],'.repeat(count - 2)}[]]`;
const members = (count: number) => `{${'"a":1,'.repeat(count - 1)}"a":1}`;
/** Objects of 99,999 members, which are a hundred thousand values with themselves, in a list; `count` in all. */
const objects = (count: number) => {
	const many = Math.floor((count - 1) / 100_000);
	const rest = '[],'.repeat(count - 1 - many * 100_000);
	return `[${rest}${Array.from({ length: many }, () => members(99_999)).join()}]`;
};

describe('a JSON text', () => {
	it('is read where it keeps within the bounds', () => {
		expect(jsonIn('{"a": [1, "[[", {}]}', 'plan', 100)).toEqual({ value: { a: [1, '[[', {}] } });
		expect(jsonIn(nested(64), 'plan', 128)).toHaveProperty('value');
	});

	it.each([
		[
			'one character too long',
			' '.repeat(101),
			/^This file is larger than any plan can be, so it was not read\.$/
		],
		[
			'nested one level too deep',
			nested(65),
			/^This file is nested deeper than any plan, so it was not read\.$/
		],
		['nested without an end', '['.repeat(100), /nested deeper/],
		['with objects nested', '{"a":'.repeat(65), /nested deeper/]
	])('is refused without being parsed: %s', (_, text, sentence) => {
		const parse = vi.spyOn(JSON, 'parse');
		expect(jsonIn(text, 'plan', text.startsWith(' ') ? 100 : 1000).problem).toMatch(sentence);
		expect(parse).not.toHaveBeenCalled();
	});

	it.each([
		['lists', lists],
		['objects and their members', objects]
	])(
		'may hold 12 million values and not one more, counted without making any: %s',
		(_, holding) => {
			expect(excessIn(holding(12_000_000))).toBeUndefined();
			expect(jsonIn(holding(12_000_001), 'backup', 200_000_000).problem).toMatch(
				/^This file holds more values than any backup, so it was not read\.$/
			);
		},
		60_000
	);

	it('may hold 100,000 members in one object and not one more, at whatever depth', () => {
		const within = `[{"a":${members(100_000)},"b":${members(100_000)}}]`;
		expect(excessIn(within)).toBeUndefined();
		expect(excessIn(within.replace('"b"', '"b":1,"b"'))).toBeUndefined();
		expect(excessIn(`[{"a":${members(100_001)}}]`)).toBe('holds more values than');
		expect(excessIn(`{"a":${members(99_999)},${members(100_000).slice(1)}`)).toBe('holds more values than');
	});

	it('counts nothing that stands within a text, whatever is escaped there', () => {
		const text = JSON.stringify({ a: `${'['.repeat(100)}"${'{'.repeat(100)}\\` });
		expect(jsonIn(text, 'plan', 1000)).toEqual({ value: JSON.parse(text) as unknown });
	});

	it.each(['', '{', '{"a":1', 'plan', ']'])('is refused in words where it is none: %j', (text) => {
		expect(jsonIn(text, 'plan', 100).problem).toMatch(/^This file is not JSON, or it was cut short/);
	});
});
