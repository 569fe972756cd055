import { Linter } from 'eslint';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { arrowsRule } from './arrows.js';

const src = join(import.meta.dirname, '../../src');
const rule = arrowsRule(
	{
		low: { may: [], why: 'it stands on nothing' },
		high: { may: ['low'], types: ['side'], why: 'it stands on low alone' },
		side: { may: [], why: 'nobody stands on it' }
	},
	[{ packages: /^tool(\/|$)/, rooms: ['low'], why: 'tool is imported only in low/' }]
);

/** What the rule says of a line in a file of src. */
function saidOf(file: string, line: string): string[] {
	const linter = new Linter({ cwd: src });
	const config = {
		plugins: { house: { rules: { arrows: rule } } },
		rules: { 'house/arrows': 'error' }
	} as const;
	return linter.verify(line, [config], join(src, file)).map(({ message }) => message);
}

describe('an arrow', () => {
	it('that the table names is let through', () => {
		expect(saidOf('lib/high/a.js', "import { x } from '$lib/low/b'; x();")).toEqual([]);
	});

	it.each([
		["import { x } from '$lib/high/b'; x();", 'low may not import high: it stands on nothing.'],
		["const x = import('$lib/high/b'); x;", 'low may not import high: it stands on nothing.'],
		[
			"new Worker(new URL('../high/b', import.meta.url));",
			"Across rooms write '$lib/<room>/<file>', in plain sight."
		],
		["import { x } from '../high/b'; x();", "Across rooms write '$lib/<room>/<file>', in plain sight."],
		["import { x } from '$lib/low/b'; x();", "Inside a room write './<file>'."],
		["import { x } from '$lib/high'; x();", "No barrels: write '$lib/<room>/<file>'."]
	])('that goes up or round about is refused with the reason: %s', (line, message) => {
		expect(saidOf('lib/low/a.js', line)).toEqual([message]);
	});

	it('to an outside thing goes through its one door', () => {
		expect(saidOf('lib/low/a.js', "import 'tool/part';")).toEqual([]);
		expect(saidOf('lib/high/a.js', "import 'tool/part';")).toEqual(['tool is imported only in low/.']);
	});

	it('into a room that the table does not know is refused', () => {
		expect(saidOf('lib/attic/a.js', '')).toEqual([
			'src/lib/attic/a.js is in no known room: give the room a line in eslint.config.js.'
		]);
	});
});
