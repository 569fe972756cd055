import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { plainIssue } from '$lib/record/plain-issue';

const said = (schema: v.GenericSchema, value: unknown) => plainIssue(v.safeParse(schema, value).issues![0]);

describe('what a schema found wrong', () => {
	it.each([
		['it is missing', v.object({ atMs: v.number() }), {}],
		['it should be a number, not "fast"', v.number(), 'fast'],
		['it should be a list, not a group of named values', v.array(v.number()), {}],
		['it should be true or false, not null', v.boolean(), null],
		['it should be a whole number, not 1.5', v.pipe(v.number(), v.integer()), 1.5],
		['it should be at least 0, not -1', v.pipe(v.number(), v.minValue(0)), -1],
		['its length should be at most 3, not 5', v.pipe(v.string(), v.maxLength(3)), 'north'],
		['it should be one of "pause", "resume", not "stop"', v.picklist(['pause', 'resume']), 'stop'],
		['it should be a column of numbers, not a list', v.instance(Uint8Array), []],
		['it should be a column of numbers, not a list', v.instance(Uint16Array), []],
		['it should be a date such as 2026-03-01, not "1 March"', v.pipe(v.string(), v.isoDate()), '1 March'],
		['it should be a number, not nothing', v.number(), undefined],
		['it should be a group of named values, not 7', v.object({}), 7],
		['it should be at most 7, not 8', v.pipe(v.number(), v.maxValue(7)), 8],
		['its length should be at least 2, not 1', v.pipe(v.array(v.number()), v.minLength(2)), [1]],
		['this is not an id', v.custom<string>(() => false, 'this is not an id'), 7]
	])('is said as: %s', (sentence, schema, value) => {
		expect(said(schema, value)).toBe(sentence);
	});

	it('quotes no more of it than one needs to know it again', () => {
		expect(said(v.number(), 'x'.repeat(1_000_000)).length).toBeLessThan(120);
	});
});
