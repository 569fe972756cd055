import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import fc from '../by-chance';
import { afterEach, describe, expect, it } from 'vitest';
import { edits, records } from './arbitraries';
import { makeHead, makeRecord } from './builders';
import { exportName, namelessExport, parseSessionJson, sessionJson } from '$lib/store/export';

const schema = JSON.parse(readFileSync('static/session.schema.json', 'utf8')) as object;
const isValid = new Ajv2020({ strict: true, strictRequired: false }).compile(schema);

type Json = Record<string, unknown>;
const content = () => JSON.parse(sessionJson(makeRecord(), { title: 'Pads', effort: 6 })) as Json;

/** Every place in a JSON value, as the keys that lead there. */
function placesIn(value: unknown): string[][] {
	if (typeof value !== 'object' || value === null) return [[]];
	return [
		[],
		...Object.entries(value).flatMap(([key, part]) => placesIn(part).map((rest) => [key, ...rest]))
	];
}

function replacedAt(value: unknown, [key, ...rest]: readonly string[], replacement: unknown): unknown {
	if (key === undefined) return replacement;
	if (Array.isArray(value))
		return value.map((part, i) => (String(i) === key ? replacedAt(part, rest, replacement) : part));
	const parts = value as Json;
	return { ...parts, [key]: replacedAt(parts[key], rest, replacement) };
}

describe('a session as JSON', () => {
	it('comes back exactly as it was, whatever was recorded', () => {
		fc.assert(
			fc.property(records, edits, (record, edit) => {
				expect(parseSessionJson(sessionJson(record, edit))).toStrictEqual({ status: 'read', record, edit });
			})
		);
	});

	it('follows the published schema (checked by a JSON Schema 2020-12 validator)', () => {
		fc.assert(
			fc.property(records, edits, (record, edit) => {
				isValid(JSON.parse(sessionJson(record, edit)));
				expect(isValid.errors).toBeNull();
			})
		);
	});

	it('says what it is at its head, and is made of plain arrays', () => {
		expect(content()).toMatchObject({
			format: 'corner-minute session',
			version: 1,
			head: { athlete: { name: 'Nerea' } },
			readings: { firstMs: -2000, stepMs: [0, 1000, 1000, 1003, 995], bpm: [148, 149, 150, 151, 152] },
			edit: { title: 'Pads', effort: 6 }
		});
	});
});

describe('reading a session from JSON', () => {
	it('refuses at every place whatever the published schema refuses there', () => {
		const places = placesIn(content());
		const wrong = fc.constantFrom<unknown>(null, -1, 0.5, 1e300, 'x', '', true, [], {}, [null]);
		fc.assert(
			fc.property(fc.constantFrom(...places), wrong, (place, replacement) => {
				const damaged = replacedAt(content(), place, replacement);
				const { status } = parseSessionJson(JSON.stringify(damaged));
				// Only the lengths of columns and the calendar go beyond what a schema can say.
				if (!isValid(damaged)) expect([place, replacement, status]).toEqual([place, replacement, 'refused']);
				else expect(['read', 'refused']).toContain(status);
			}),
			{ numRuns: 2000 }
		);
	});

	it('refuses a session that lacks any member it must have', () => {
		const required = placesIn(content()).filter((place) => place.length > 0 && !/^\d+$/.test(place.at(-1)!));
		const optional = ['title', 'effort', 'thresholdBpm', 'ageYears'];
		for (const place of required.filter((keys) => !optional.includes(keys.at(-1)!))) {
			const damaged = JSON.stringify(replacedAt(content(), place, undefined));
			expect([place, parseSessionJson(damaged).status]).toEqual([place, 'refused']);
		}
	});

	it.each([
		['text that is no JSON', 'round,bpm\r\n1,150', /not JSON/],
		['text cut short', sessionJson(makeRecord()).slice(0, -40), /not JSON, or it was cut short/],
		['an empty file', '', /not JSON/],
		['JSON of another kind', '{"version":7}', /not a session of Corner Minute/],
		['null', 'null', /not a session of Corner Minute/],
		['a newer form', JSON.stringify({ ...content(), version: 3 }), /newer version/],
		['no form at all', JSON.stringify({ ...content(), version: undefined }), /damaged at "version"/],
		['a list for the head', JSON.stringify({ ...content(), head: [] }), /damaged at "head"/],
		['nesting without end', '['.repeat(100_000), /nested deeper than any session/]
	])('refuses %s with a plain sentence', (_, text, sentence) => {
		expect(parseSessionJson(text)).toEqual({ status: 'refused', problem: expect.stringMatching(sentence) });
	});

	it('refuses columns that do not belong together', () => {
		const damaged = replacedAt(content(), ['readings', 'rrCount', '0'], 2);
		expect(isValid(damaged)).toBe(true);
		expect(parseSessionJson(JSON.stringify(damaged))).toMatchObject({
			problem: expect.stringMatching(/rr1024 has 5 .* promises 6/)
		});
	});

	it('refuses more readings than any session has', () => {
		const many = replacedAt(
			content(),
			['readings', 'bpm'],
			Array.from({ length: 400_001 }, () => 1)
		);
		expect(parseSessionJson(JSON.stringify(many))).toMatchObject({
			problem: expect.stringMatching(/at most 400000/)
		});
	});

	it('does not even parse a text of over 16 million characters', () => {
		expect(parseSessionJson(sessionJson(makeRecord()).padEnd(16_000_001))).toMatchObject({
			status: 'refused',
			problem: expect.stringMatching(/larger than any session/)
		});
	});

	it('takes no prototype from a file', () => {
		const planted = '"__proto__":{"practice":true,"polluted":1},"constructor":{"prototype":{"polluted":1}},';
		const text = sessionJson(makeRecord(), { title: 'Pads' }).replaceAll('{"', `{${planted}"`);
		expect(text.split('__proto__').length).toBeGreaterThan(5);
		expect(parseSessionJson(text)).toStrictEqual({
			status: 'read',
			record: makeRecord(),
			edit: { title: 'Pads' }
		});
		expect({}).not.toHaveProperty('polluted');
	});

	it('never throws, whatever JSON it is given', () => {
		fc.assert(
			fc.property(fc.json(), (text) => {
				expect(parseSessionJson(text).status).toBe('refused');
			})
		);
	});
});

describe('the name of an exported file', () => {
	// Half past six in the evening in UTC is half past seven of the next morning in Auckland.
	const zone = process.env.TZ;
	afterEach(() => {
		if (zone === undefined) delete process.env.TZ;
		else process.env.TZ = zone;
	});
	const named = (name: string, id = 'rec-1') =>
		exportName(makeHead({ id, athlete: { athleteId: 'ath-1', name } }), '.json');

	it('says when by the clock here, and who', () => {
		process.env.TZ = 'Pacific/Auckland';
		expect(exportName(makeHead(), '.csv')).toMatch(/^corner-minute-2026-03-03-07-30-Nerea-[a-z\d]{7}\.csv$/);
	});

	it('names nobody where the file is one that names nobody', () => {
		process.env.TZ = 'Pacific/Auckland';
		expect(namelessExport(makeHead(), '.rr.txt')).toMatch(
			/^corner-minute-2026-03-03-07-30-[a-z\d]{7}\.rr\.txt$/
		);
	});

	it('bears the name that the session was given later', () => {
		expect(exportName(makeHead(), '.csv', 'Odalys')).toContain('-Odalys-');
	});

	it.each([
		'Nerea',
		'',
		'!!!',
		'CON',
		'../../x',
		'José Ñandú',
		'\u202Eevil',
		'a'.repeat(500),
		'🥊'.repeat(40)
	])('is safe and short whatever the athlete is called: %j', (name) => {
		expect(named(name)).toMatch(/^corner-minute-[\d-]{16}-[\p{L}\p{N}-]{1,30}-[a-z\d]{7}\.json$/u);
	});

	it('says so where nobody knows the name', () => {
		expect(named(' ')).toContain('-unknown-');
	});

	it('differs for two corners of one minute, also where both bear one name', () => {
		expect(new Set(['rec-1', 'rec-2', '1-rec', '2-rec'].map((id) => named('Nerea', id))).size).toBe(4);
	});

	it('ends in the published sign of its id (FNV-1a 32: "foobar" is 0xbf9cf968, from the test vectors of the draft)', () => {
		expect(named('Nerea', 'foobar')).toContain(`-${(0xbf9cf968).toString(36)}.`);
	});
});
