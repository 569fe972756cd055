import fc from '../../by-chance';
import { Fhir } from 'fhir';
import { describe, expect, it } from 'vitest';
import { makeHead, padsPlan } from '../../store/builders';
import { makeRound, makeSummary } from '../session-builders';
import { boxed, measurable } from './boxed';
import { fhirText } from '$lib/review/formats/fhir';
import { nameUuid } from '$lib/review/formats/name-uuid';
import { fileOffers } from '$lib/review/formats/offers';
import { recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { summaryOf } from '$lib/review/summary';
import type { SessionRecord } from '$lib/record/body';
import { packReadings } from '$lib/record/columns';
import type { RestSummary, Summary } from '$lib/record/summary';
import type { Plan } from '$lib/rounds/plan';

interface Observation {
	resourceType: 'Observation';
	meta: { profile: string[] };
	status: string;
	category: { coding: object[] }[];
	code: { coding: object[]; text: string };
	subject: { reference: string };
	effectivePeriod: { start: string; end: string };
	valueQuantity?: { value: number };
	dataAbsentReason?: { coding: object[]; text: string };
	identifier: { value: string }[];
	note?: { text: string }[];
}
interface Bundle {
	resourceType: string;
	type: string;
	entry: { fullUrl: string; resource: Observation | { resourceType: 'Patient'; name: object[] } }[];
}

const madeAt = '2026-03-03T08:00:00.000Z';
const plan = { ...padsPlan, roundCount: 2, coolDownS: 0 };
const wholeMs = 10_000 + 2 * 240_000;
const bundleOf = async (record: SessionRecord, name = 'Nerea') =>
	JSON.parse(await fhirText(record, summaryOf(record), name, madeAt)) as Bundle;
const observationsIn = ({ entry }: Bundle) =>
	entry.flatMap(({ resource }) => (resource.resourceType === 'Observation' ? [resource] : []));
const observed = async (record: SessionRecord) => observationsIn(await bundleOf(record));

const run = boxed({ plan: thresholdRunPlan(60), endedMs: 1_630_000 });
const resting = boxed({ plan: restingPlan('sitting'), endedMs: 300_000 });
const check = boxed({ plan: recoveryCheckPlan(27), endedMs: 135_000 + 660_000 + 180_000 });
const silent = boxed({ plan, endedMs: wholeMs }, (s) => s >= 5 && s < 200);
const all: [string, SessionRecord][] = [
	['rounds', boxed({ plan, endedMs: wholeMs })],
	['a round without a reading', silent],
	['a threshold run', run],
	['a resting rate', resting],
	['a recovery check', check]
];

describe('a session as FHIR R4', () => {
	it.each(all)('is what a general validator of FHIR R4 calls a valid resource: %s', async (_, record) => {
		const bundle = await bundleOf(record);
		const { valid, messages } = new Fhir().validate(bundle, { errorOnUnexpected: true });
		expect(messages.filter(({ severity }) => severity === 'error' || severity === 'fatal')).toEqual([]);
		expect(valid).toBe(true);
	});

	// A validator of the base resource passes a wrong unit, so the fixed values of the profile stand here by hand:
	// http://hl7.org/fhir/R4/heartrate.html and http://hl7.org/fhir/R4/observation-vitalsigns.html, summaries and
	// snapshots, FHIR 4.0.1.
	it.each(all)('has what the heart rate profile fixes, in each observation: %s', async (_, record) => {
		const observations = await observed(record);
		expect(observations.length).toBeGreaterThan(0);
		for (const observation of observations) {
			expect(observation.meta.profile).toContain('http://hl7.org/fhir/StructureDefinition/heartrate');
			expect(observation.category[0]!.coding).toContainEqual(
				expect.objectContaining({
					system: 'http://terminology.hl7.org/CodeSystem/observation-category',
					code: 'vital-signs'
				})
			);
			expect(observation.code.coding).toContainEqual(
				expect.objectContaining({ system: 'http://loinc.org', code: '8867-4' })
			);
			expect(observation.status).toBe('final');
			// value[x] is a Quantity or absent, and then, and only then (obs-6, vs-2), there is a reason.
			expect(Object.keys(observation).filter((name) => /^value/.test(name))).toEqual(
				observation.dataAbsentReason ? [] : ['valueQuantity']
			);
			if (observation.valueQuantity)
				expect(observation.valueQuantity).toEqual({
					value: expect.any(Number) as number,
					unit: expect.stringMatching(/./) as string,
					system: 'http://unitsofmeasure.org',
					code: '/min'
				});
			expect(observation).not.toHaveProperty('component');
		}
	});

	it.each(all)('is a collection in which every observation is of its one patient: %s', async (_, record) => {
		const bundle = await bundleOf(record);
		expect(bundle).toMatchObject({ resourceType: 'Bundle', type: 'collection' });
		const [patient, ...others] = bundle.entry;
		expect(patient!.resource).toEqual({ resourceType: 'Patient', name: [{ text: 'Nerea' }] });
		for (const { fullUrl, resource } of others) {
			expect(resource).toMatchObject({ subject: { reference: patient!.fullUrl } });
			expect(resource).toMatchObject({ identifier: [{ system: 'urn:ietf:rfc:3986', value: fullUrl }] });
		}
		const urls = bundle.entry.map(({ fullUrl }) => fullUrl);
		expect(new Set(urls).size).toBe(urls.length);
		// RFC 4122: in small letters, of version 5.
		for (const url of urls)
			expect(url).toMatch(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
	});

	it('has an observation a round, with its mean over its time', async () => {
		const record = boxed({ plan, endedMs: wholeMs });
		const observations = await observed(record);
		expect(observations.map(({ code }) => code.text)).toEqual([
			'Mean heart rate of round 1, pads',
			'Mean heart rate of round 2, pads'
		]);
		expect(observations[0]).toMatchObject({
			effectivePeriod: { start: '2026-03-02T18:30:10.000Z', end: '2026-03-02T18:33:10.000Z' },
			valueQuantity: { value: Number(summaryOf(record).rounds[0]!.averageBpm!.toFixed(1)) }
		});
	});

	it('has the reason and no number where nothing was measured', async () => {
		const [first, second] = await observed(silent);
		// http://hl7.org/fhir/R4/valueset-data-absent-reason.html
		expect(first!.dataAbsentReason).toEqual({
			coding: [
				{
					system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason',
					code: 'unknown',
					display: 'Unknown'
				}
			],
			text: 'No usable reading came in this round.'
		});
		expect(second!.valueQuantity).toBeDefined();
	});

	it('has one observation of a threshold run: the mean that was measured, with the threshold in words', async () => {
		const [only, ...others] = await observed(run);
		expect(others).toEqual([]);
		const { meanBpm, thresholdBpm } = summaryOf(run).guided!;
		expect(only!.valueQuantity!.value).toBeCloseTo(meanBpm!, 1);
		expect(only!.note![0]!.text).toContain(`${Math.round(thresholdBpm!)} beats a minute`);
		expect(Math.round(thresholdBpm!)).toBe(Math.round(0.95 * meanBpm!));
	});

	it('has one observation of quiet minutes, with the posture', async () => {
		const [only, ...others] = await observed(resting);
		expect(others).toEqual([]);
		expect(only!.code.text).toContain('Resting heart rate, sitting');
		expect(only!.valueQuantity!.value).toBeCloseTo(summaryOf(resting).guided!.restBpm!, 1);
		const [unknown] = await observed(boxed({ plan: restingPlan('sitting'), endedMs: 120_000 }));
		expect(unknown!.dataAbsentReason!.text).toContain('five quiet minutes are not over');
	});

	it('has the rounds of a recovery check, and the rate one minute after its last bell', async () => {
		const observations = await observed(check);
		expect(observations).toHaveLength(4);
		const rest = summaryOf(check).rounds.at(-1)!.rest!;
		const bellMs = Date.parse(check.head.startedAt) + rest.startMs;
		expect(observations[3]).toMatchObject({
			valueQuantity: { value: Number(rest.rate60!.toFixed(1)) },
			effectivePeriod: {
				start: new Date(bellMs + 55_000).toISOString(),
				end: new Date(bellMs + 60_000).toISOString()
			}
		});
	});

	it('has a number or a reason in each observation, and null nowhere, whatever was recorded', async () => {
		await fc.assert(
			fc.asyncProperty(measurable, async (record) => {
				const bundle = await bundleOf(record);
				expect(JSON.stringify(bundle)).not.toContain('null');
				for (const { valueQuantity, dataAbsentReason } of observationsIn(bundle))
					expect([valueQuantity, dataAbsentReason].filter(Boolean)).toHaveLength(1);
				expect(new Fhir().validate(bundle).valid).toBe(true);
			}),
			{ numRuns: 30 }
		);
	});

	it('bears the same identifiers when it is written anew, and others for another session', async () => {
		const idsOf = async (record: SessionRecord) =>
			(await observed(record)).map(({ identifier }) => identifier);
		const again = boxed({ plan, endedMs: wholeMs });
		expect(await idsOf(again)).toEqual(await idsOf(boxed({ plan, endedMs: wholeMs })));
		expect(await idsOf(boxed({ plan, endedMs: wholeMs, id: 'rec-2' }))).not.toEqual(await idsOf(again));
	});

	it('says that the name is unknown where there is none', async () => {
		const bundle = await bundleOf(run, '  ');
		expect(bundle.entry[0]!.resource).toEqual({
			resourceType: 'Patient',
			name: [
				{
					extension: [
						{ url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'unknown' }
					]
				}
			]
		});
	});
});

describe('what an observation says', () => {
	const head = makeHead({ amendments: [], events: [] });
	const told = async (summary: Partial<Summary>, plan: Partial<Plan> = {}) =>
		observationsIn(
			JSON.parse(
				await fhirText(
					{ head: { ...head, plan: { ...head.plan, ...plan } }, body: packReadings([]) },
					makeSummary(summary),
					'Nerea',
					madeAt
				)
			) as Bundle
		);
	const inShort = ({ code, valueQuantity, dataAbsentReason, note }: Observation) => [
		code.text,
		valueQuantity?.value ?? dataAbsentReason?.text,
		...(note ?? []).map(({ text }) => text)
	];
	const round = { ...makeRound(1, 44), averageBpm: 151.26, coverage: 0.847 };

	it('is the mean of a round to the tenth, with its time and how it was measured', async () => {
		const [only] = await told({ rounds: [{ ...round, startMs: 10_000, endMs: 190_000.4 }] });
		expect(only).toMatchObject({
			code: {
				coding: [{ system: 'http://loinc.org', code: '8867-4', display: 'Heart rate' }],
				text: 'Mean heart rate of round 1, pads'
			},
			effectivePeriod: { start: '2026-03-02T18:30:10.000Z', end: '2026-03-02T18:33:10.000Z' },
			// The unit is the one of UCUM that the profile fixes, http://hl7.org/fhir/R4/heartrate.html.
			valueQuantity: {
				...{ value: 151.3, unit: 'beats/minute' },
				...{ system: 'http://unitsofmeasure.org', code: '/min' }
			},
			note: [{ text: '85 % of its seconds were measured.' }],
			method: { text: 'Chest strap worn in training; mean of the rates of single seconds' }
		});
		expect(only).not.toHaveProperty('dataAbsentReason');
	});

	it('names a round that was boxed again, and what was done in it', async () => {
		const rounds = [round, { ...round, attempt: 2 }, { ...round, round: 2, activity: 'bag' as const }];
		const texts = (await told({ rounds })).map(({ code }) => code.text);
		expect(texts).toEqual([
			'Mean heart rate of round 1, pads',
			'Mean heart rate of round 1, attempt 2, pads',
			'Mean heart rate of round 2, bag'
		]);
	});

	it('has a note on its seconds only beside a number', async () => {
		const { averageBpm: _, ...silent } = round;
		const { coverage: __, ...unknown } = round;
		const [first, second] = await told({ rounds: [silent, unknown] });
		expect(first).not.toHaveProperty('note');
		expect(inShort(first!)[1]).toBe('No usable reading came in this round.');
		expect(second).not.toHaveProperty('note');
		expect(inShort(second!)[1]).toBe(151.3);
	});

	it('is of a run its mean, with the threshold where there is one, or else the first reason', async () => {
		const kind = 'threshold run' as const;
		const run = async (guided: Partial<NonNullable<Summary['guided']>>, rounds = [round]) =>
			(await told({ rounds, guided: { kind, reasons: [], ...guided } }, { kind })).map(inShort);
		const words = 'Mean heart rate of a 20-minute threshold run';
		expect(await run({ meanBpm: 170.04, thresholdBpm: 161.54 })).toEqual([
			[words, 170, 'Threshold by common practice, no source (this mean less 5 %): 162 beats a minute.']
		]);
		expect(await run({ meanBpm: 170.04 })).toEqual([[words, 170]]);
		expect(await run({ reasons: ['It was too short.', 'The strap was lost.'] })).toEqual([
			[words, 'It was too short.']
		]);
		expect(await run({})).toEqual([[words, 'It could not be measured.']]);
		expect(await run({ meanBpm: 170 }, [])).toEqual([]);
		expect((await told({ rounds: [round] }, { kind })).map(inShort)).toEqual([]);
	});

	it('is of quiet minutes the lowest one, with the posture where it is known', async () => {
		const kind = 'resting' as const;
		const guided = { kind, restBpm: 52.34, reasons: [] };
		const quiet = async (plan: Partial<Plan>) => (await told({ rounds: [round], guided }, plan)).map(inShort);
		expect(await quiet({ kind, posture: 'lying' })).toEqual([
			['Resting heart rate, lying: lowest minute of five quiet ones', 52.3]
		]);
		expect(await quiet({ kind })).toEqual([['Resting heart rate: lowest minute of five quiet ones', 52.3]]);
	});

	it('is of a check each round and the rate a minute after the last bell, with how far it fell', async () => {
		const kind = 'recovery check' as const;
		const guided = { kind, reasons: ['The still minutes were not over.'] };
		const ended = async (rest: Partial<RestSummary>) => {
			const closing = { ...round.rest!, kind: 'closing' as const, startMs: 180_000, endMs: 360_000, ...rest };
			const observations = await told({ rounds: [{ ...round, rest: closing }], guided }, { kind });
			expect(observations[0]!.code.text).toBe('Mean heart rate of round 1, pads');
			return observations.slice(1);
		};
		const words = 'Heart rate one minute after the last bell of a recovery check';
		const [measured] = await ended({ rate60: 126.44, drop60: 43.6 });
		expect(inShort(measured!)).toEqual([words, 126.4, 'It fell by 44 beats in that minute.']);
		const [higher] = await ended({ rate60: 126.44, drop60: -4.2 });
		expect(inShort(higher!)).toEqual([words, 126.4, 'It rose by 4 beats in that minute.']);
		// The rate at 60 is the mean of the five seconds before it.
		expect(measured!.effectivePeriod).toEqual({
			start: '2026-03-02T18:33:55.000Z',
			end: '2026-03-02T18:34:00.000Z'
		});
		const [risen] = await ended({ rate60: 126.44, drop60: undefined });
		expect(inShort(risen!)).toEqual([words, 126.4]);
		const none = { rate60: undefined, drop60: undefined };
		expect((await ended({ ...none, reason: 'The signal was lost.' })).map(inShort)).toEqual([
			[words, 'The signal was lost.']
		]);
		expect((await ended(none)).map(inShort)).toEqual([[words, 'The still minutes were not over.']]);
		expect((await ended({ kind: 'rest' })).map(inShort)).toEqual([]);
	});

	it('stands in a text that people can read, with the moment of its making and the name without blanks', async () => {
		const record = boxed({ plan, endedMs: wholeMs });
		const text = await fhirText(record, summaryOf(record), ' Nerea ', madeAt);
		const lines = text.split('\n');
		expect(lines.slice(0, 5)).toEqual([
			'{',
			'\t"resourceType": "Bundle",',
			'\t"type": "collection",',
			`\t"timestamp": "${madeAt}",`,
			'\t"entry": ['
		]);
		expect(lines.slice(-2)).toEqual(['}', '']);
		expect((JSON.parse(text) as Bundle).entry[0]!.resource).toEqual({
			resourceType: 'Patient',
			name: [{ text: 'Nerea' }]
		});
	});
});

describe('a name-based UUID', () => {
	it('is the one that RFC 9562 works out in its appendix A.4', async () => {
		// The space is that of domain names, RFC 9562, 6.6.
		expect(await nameUuid('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'www.example.com')).toBe(
			'2ed6657d-e927-568b-95e1-2665a8aea6a2'
		);
	});
});

describe('the files that are offered of a session', () => {
	const record = boxed({ plan, endedMs: wholeMs });
	const offered = (
		one: SessionRecord,
		summary = summaryOf(one) as ReturnType<typeof summaryOf> | undefined
	) => fileOffers(one, summary).map(({ form, whyNot }) => (whyNot ? `${form}: ${whyNot}` : form));

	it('begin with the everyday one', () => {
		expect(offered(record)).toEqual(['csv', 'json', 'rr', 'fhir', 'open-mhealth']);
	});

	it('leave a simulated session out of a doctor’s system, and say why', () => {
		expect(offered(boxed({ plan, endedMs: wholeMs, practice: true }))[3]).toMatch(/^fhir: .* simulated/);
	});

	it('bear a name, for whom they are, and a reason only where there is none', () => {
		const offers = fileOffers(record, summaryOf(record));
		expect(offers.map(({ name, forWhom }) => [name, forWhom])).toEqual([
			['CSV', 'For a spreadsheet.'],
			['JSON', 'For this page on another computer, or to keep.'],
			['RR text', 'For programs that look at the time from beat to beat.'],
			['FHIR', 'For a doctor’s system (HL7 FHIR R4).'],
			['Open mHealth', 'For a study, or a program that reads Open mHealth.']
		]);
		expect(offers.map(({ holds }) => holds)).toEqual([
			'Every reading in a row, with its round and rest. The name stands in the file’s name alone.',
			'The whole session, with the name, the athlete’s numbers of that day, note and effort.',
			'One RR interval in milliseconds a line. No name, no times of day.',
			'The name, and the mean heart rate of each round or test, with its time. A round without a usable reading has the reason and no number.',
			'The mean and highest heart rate of each round, and each beat, with its time. No name.'
		]);
		for (const offer of offers) expect(offer).not.toHaveProperty('whyNot');
	});

	it('are there up to 100,000 beats, and without a summary only where none is needed', () => {
		const most = { ...record, body: { ...record.body, rr1024: new Uint16Array(100_000) } };
		expect(offered(most, summaryOf(record))).toEqual(['csv', 'json', 'rr', 'fhir', 'open-mhealth']);
		const notMeasured = 'This session is not measured, so there are no rounds to tell of.';
		const reasons = (one: SessionRecord) => fileOffers(one, undefined).map(({ whyNot }) => whyNot);
		expect(reasons(record)).toEqual([undefined, undefined, undefined, notMeasured, notMeasured]);
		// What speaks against it in any case comes first.
		expect(reasons(boxed({ plan, endedMs: wholeMs, practice: true }))[3]).toBe(
			'This session is simulated. No heart was measured, so it does not belong in a doctor’s system.'
		);
		expect(offered(record, { ...summaryOf(record), rounds: [] })[4]).toBe('open-mhealth');
	});

	it('say what is missing', () => {
		const noBeats = { ...record, body: { ...record.body, rr1024: new Uint16Array(0) } };
		expect(offered(noBeats)[2]).toMatch(/^rr: The strap sent no RR intervals/);
		const endless = { ...record, body: { ...record.body, rr1024: new Uint16Array(100_001) } };
		expect(offered(endless, summaryOf(record))[4]).toMatch(/^open-mhealth: It has more than 100,000 beats/);
		expect(offered(record, { ...summaryOf(record), rounds: [] })[3]).toMatch(/^fhir: No round was boxed/);
		expect(
			fileOffers(record, undefined)
				.filter(({ whyNot }) => whyNot)
				.map(({ form }) => form)
		).toEqual(['fhir', 'open-mhealth']);
	});
});
