import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import {
	makeHead,
	makeReading,
	makeRecord,
	makeStart,
	padsPlan,
	readingEntry,
	startEntry
} from '../store/builders';
import { packReadings } from '$lib/record/columns';
import { recordBodySchema, type RecordBody } from '$lib/record/body';
import { athleteSchema } from '$lib/record/athlete';
import { check } from '$lib/record/check';
import { journalEntrySchema } from '$lib/record/journal';
import { planSchema } from '$lib/rounds/plan-schema';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema } from '$lib/record/head';

// Form 1 as it was released, spelt out: it must stay readable in every later version.
const headForm1 = {
	version: 1,
	id: '7f1c2d34-0000-4000-8000-00000000000a',
	groupId: '7f1c2d34-0000-4000-8000-00000000000b',
	startedAt: '2026-03-02T18:30:00.000Z',
	zone: 'Europe/Lisbon',
	endedMs: 190_000,
	plan: {
		name: 'One for the bag',
		activity: 'bag',
		roundCount: 1,
		roundS: 120,
		restS: 60,
		warmUpS: 0,
		getReadyS: 10,
		coolDownS: 30,
		endWarningS: 10,
		startWarningS: 10
	},
	amendments: [{ kind: 'stop round', atMs: 100_000 }],
	athlete: {
		athleteId: '7f1c2d34-0000-4000-8000-00000000000c',
		name: 'Nerea',
		thresholdBpm: 171.5,
		measuredMaxBpm: 193,
		ageYears: 27,
		slowingMedicine: true
	},
	strapName: 'Strap 14C2',
	practice: false,
	events: [
		{ kind: 'signal lost', ms: 40_000 },
		{ kind: 'signal back', ms: 44_000 },
		{ kind: 'malformed packet', ms: 50_000 },
		{ kind: 'marker', ms: 60_000 }
	]
};
const bodyForm1 = {
	version: 1,
	firstMs: -900,
	stepMs: Uint16Array.of(0, 1000, 998),
	bpm: Uint8Array.of(120, 121, 122),
	flags: Uint8Array.of(3, 7, 2),
	rrCount: Uint8Array.of(2, 0, 1),
	rr1024: Uint16Array.of(512, 510, 500),
	energyKJ: Uint16Array.of(12)
};

const body = () => packReadings([makeReading({ energyKJ: 5 }), makeReading({ ms: 1000, rrMs: [400, 390] })]);

describe('what is read back', () => {
	it('is a record of form 1 as it was released', () => {
		expect(check(recordHeadSchema, headForm1)).toEqual({ value: headForm1 });
		expect(check(recordBodySchema, bodyForm1)).toEqual({ value: bodyForm1 });
	});

	it('is a record of several corners: who joined, who left, whose strap was another, and who else was there', () => {
		const corners = {
			joinedMs: 12_000,
			left: true,
			strapChanges: [{ ms: 40_500, strapName: 'Strap 14C2', practice: false, swapped: true }],
			group: ['rec-1', 'rec-2']
		} as const;
		const head = { ...headForm1, ...corners };
		expect(check(recordHeadSchema, head)).toEqual({ value: head });
		const damaged = { ...head, strapChanges: [{ ms: NaN, strapName: 'Strap', practice: false }] };
		expect(check(recordHeadSchema, damaged).problem).toContain('strapChanges.0.ms');
		expect(check(recordHeadSchema, { ...head, group: ['a/b'] }).problem).toContain('not an id');
	});

	it('names the place and the reason where it is damaged', () => {
		const head = makeHead({ plan: { ...padsPlan, roundS: 'long' as unknown as number } });
		expect(check(recordHeadSchema, head).problem).toMatch(/damaged at "plan\.roundS": .*number/);
	});

	it('tells a newer form apart from a damaged one', () => {
		const { problem } = check(recordHeadSchema, { version: 3, somethingNew: [] });
		expect(problem).toMatch(/newer version .*form 3.*up to 2/);
	});

	it('never quotes a damaged entry at length', () => {
		const { problem } = check(recordHeadSchema, { ...makeHead(), practice: 'x'.repeat(100_000) });
		expect(problem).toMatch(/damaged at "practice"/);
		expect(problem!.length).toBeLessThanOrEqual(201);
	});

	it('is a value or a sentence, whatever lies there', () => {
		const schemas = [recordHeadSchema, recordBodySchema, recordEditSchema, journalEntrySchema, athleteSchema];
		fc.assert(
			fc.property(fc.anything({ withTypedArray: true, withNullPrototype: true }), (stored) => {
				for (const schema of schemas) expect(check<unknown>(schema, stored).problem).toBeTypeOf('string');
			})
		);
	});

	it('carries along members that this page does not know, and no prototype', () => {
		const hostile: unknown = JSON.parse(
			`{ "at": "2026-03-02T20:00:00.000Z", "note": "ok", "extra": 1, "__proto__": { "polluted": true } }`
		);
		const { value } = check(recordEditSchema, hostile);
		expect(value).toStrictEqual({ at: '2026-03-02T20:00:00.000Z', note: 'ok', extra: 1 });
		expect('polluted' in value!).toBe(false);
	});

	it.each([
		'2026-03-02',
		'2026-03-02T18:30:00Z',
		'2026-03-02T18:30:00.000+01:00',
		'2026-02-30T18:30:00.000Z',
		''
	])('takes no other spelling of a time: %j', (startedAt) => {
		expect(check(recordHeadSchema, makeHead({ startedAt })).problem).toContain('not a time in UTC');
	});

	it.each([NaN, Infinity, -1])('takes no session that ended at %d ms', (endedMs) => {
		expect(check(recordHeadSchema, makeHead({ endedMs })).problem).toContain('endedMs');
	});

	it.each(['', 'a/b', 'x'.repeat(65)])('takes no id that cannot be part of a key: %j', (id) => {
		expect(check(recordHeadSchema, makeHead({ id })).problem).toContain('not an id');
	});

	it('keeps rests by heart and the bell of the gym, and takes no share that is none', () => {
		const byHeart = { ...padsPlan, restDownToPercent: 75 };
		const byHall = { ...padsPlan, followsGymBell: true as const };
		expect(check(planSchema, byHeart).value).toEqual(byHeart);
		expect(check(planSchema, byHall).value).toEqual(byHall);
		for (const restDownToPercent of [0, 101, 74.5, NaN])
			expect(check(planSchema, { ...padsPlan, restDownToPercent }).problem).toContain('restDownToPercent');
		expect(check(planSchema, { ...padsPlan, followsGymBell: false }).problem).toContain('followsGymBell');
		const amendments = [{ kind: 'rest over' as const, atMs: 200_000 }];
		expect(check(recordHeadSchema, makeHead({ plan: byHeart, amendments })).value).toMatchObject({
			amendments
		});
	});

	it('takes no plan whose timeline would hang the page', () => {
		expect(check(planSchema, { ...padsPlan, roundCount: 1e9 }).problem).toContain('roundCount');
		expect(check(planSchema, { ...padsPlan, roundCount: 0.5 }).problem).toContain('roundCount');
	});

	it.each([-1, 10.5, NaN])('takes no effort of %d', (effort) => {
		expect(check(recordEditSchema, { at: makeHead().startedAt, effort }).problem).toContain('effort');
	});
});

describe('the columns of a body belong together', () => {
	const damaged: [string, Partial<RecordBody>, RegExp][] = [
		['a rate is missing', { bpm: Uint8Array.of(150) }, /bpm has 1 entries where stepMs has 2/],
		['flags are missing', { flags: Uint8Array.of(7) }, /flags has 1 entries/],
		['a count is missing', { rrCount: Uint8Array.of(1) }, /rrCount has 1 entries/],
		[
			'an interval is missing',
			{ rr1024: Uint16Array.of(1, 2) },
			/rr1024 has 2 entries where rrCount promises 3/
		],
		['an energy is missing', { energyKJ: Uint16Array.of() }, /energyKJ has 0 entries where flags promises 1/],
		['the first step is not 0', { stepMs: Uint16Array.of(5, 1000) }, /first entry of stepMs/],
		['contact has no code', { flags: Uint8Array.of(4, 3) }, /flags has an unknown value/],
		['a reserved flag is set', { flags: Uint8Array.of(7, 11) }, /flags has an unknown value/],
		['the first time is no number', { firstMs: NaN }, /firstMs/],
		['a column is a plain array', { bpm: [150, 151] as never }, /bpm/],
		['a column is too wide', { flags: Uint16Array.of(7, 3) as never }, /flags/]
	];

	it('when all is well', () => {
		expect(check(recordBodySchema, body())).toEqual({ value: body() });
	});

	it.each(damaged)('and are refused where %s', (_, damage, sentence) => {
		expect(check(recordBodySchema, { ...body(), ...damage }).problem).toMatch(sentence);
	});
});

describe('a journal entry', () => {
	it.each([
		startEntry,
		readingEntry({ ms: -12.5, energyKJ: 3 }),
		{ kind: 'amendment', amendment: { kind: 'extend rest', atMs: 5 } },
		{ kind: 'event', corner: 1, event: { kind: 'marker', ms: 7 } },
		{ kind: 'join', corner: 2, ms: 40, entrant: makeStart().corners[0] },
		{ kind: 'leave', corner: 2, ms: 90 },
		{ kind: 'strap', corner: 1, change: { ms: 60, strapName: 'Strap 2', practice: true } }
	])('of each kind comes back as it was: $kind', (entry) => {
		expect(check(journalEntrySchema, entry)).toEqual({ value: entry });
	});

	it.each([
		['no corner', readingEntry({ corner: -1 })],
		['a time that is none', readingEntry({ ms: NaN })],
		['a rate beyond 16 bits', readingEntry({ bpm: 65_536 })],
		['an interval beyond 16 bits', readingEntry({ rrMs: [64_000] })],
		[
			'more intervals than a record can count',
			readingEntry({ rrMs: Array.from({ length: 256 }, () => 400) })
		],
		['a kind nobody knows', { kind: 'reset' }],
		['no athlete at all', { kind: 'start', start: { ...makeRecord().head, sessionId: 's', corners: [] } }]
	])('is refused with %s', (_, entry) => {
		expect(check(journalEntrySchema, entry).problem).toContain('damaged');
	});
});
