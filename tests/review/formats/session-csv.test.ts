import fc from '../../by-chance';
import { describe, expect, it } from 'vitest';
import { records } from '../../store/arbitraries';
import { makeHead, makeReading, padsPlan } from '../../store/builders';
import { boxed } from './boxed';
import { about, boxedPhases, broughtBack, read } from './brought-back';
import { packReadings, unpackReadings } from '$lib/record/columns';
import type { Amendment } from '$lib/rounds/amendment';
import { sessionCsv } from '$lib/review/formats/session-csv';
import { recordOfImport } from '$lib/review/imported';
import { summaryOf } from '$lib/review/summary';
import type { SessionRecord } from '$lib/record/body';

const plan = { ...padsPlan, roundCount: 3 };
const wholeMs = 10_000 + 3 * 180_000 + 3 * 60_000 + 120_000;

describe('a session as CSV', () => {
	it('has a header and a row a packet, each in its phase', () => {
		const head = makeHead({
			plan: { ...padsPlan, roundCount: 1, coolDownS: 0 },
			amendments: [
				{ kind: 'pause', atMs: 100_000 },
				{ kind: 'resume', atMs: 105_000 }
			],
			endedMs: 255_000
		});
		const body = packReadings([
			makeReading({ ms: -1250, contact: 'no contact', rrMs: [] }),
			makeReading({ ms: 9999, bpm: 90, rrMs: [650.390625, 660.15625] }),
			makeReading({ ms: 10_000, bpm: 91, contact: 'not supported' }),
			makeReading({ ms: 100_000, bpm: 170, energyKJ: 12 }),
			makeReading({ ms: 105_000, bpm: 150 }),
			makeReading({ ms: 195_000, bpm: 180 }),
			makeReading({ ms: 255_000, bpm: 130 })
		]);
		expect(sessionCsv({ head, body })).toBe(
			[
				'elapsed_s,phase,round,bpm,contact,rr_ms,phase_s,paused,activity,energy_kj,simulated',
				'-1.25,,,150,no contact,,,,,,false',
				'9.999,get ready,1,90,contact,650.4 660.2,9.999,false,pads,,false',
				'10,work,1,91,not supported,400.4,0,false,pads,,false',
				'100,work,1,170,contact,400.4,90,true,pads,12,false',
				'105,work,1,150,contact,400.4,95,false,pads,,false',
				'195,closing,1,180,contact,400.4,0,false,pads,,false',
				'255,,,130,contact,400.4,,,,,false',
				''
			].join('\r\n')
		);
	});

	it('is only a header where there are no readings, and names nobody', () => {
		const text = sessionCsv({ head: makeHead(), body: packReadings([]) });
		expect(text.split('\r\n')).toHaveLength(2);
		expect(sessionCsv(boxed({ plan, endedMs: wholeMs }))).not.toContain('Nerea');
	});

	it('says in every row that a session is simulated, and comes back as one', () => {
		const text = sessionCsv(boxed({ plan, endedMs: wholeMs, practice: true }));
		const rows = text.trimEnd().split('\r\n').slice(1);
		expect(rows.every((row) => row.endsWith(',true'))).toBe(true);
		expect(broughtBack(text).head.practice).toBe(true);
		expect(broughtBack(sessionCsv(boxed({ plan, endedMs: wholeMs }))).head.practice).toBe(false);
	});
});

describe('a session brought back from its CSV', () => {
	it('has the same readings, whatever was recorded', () => {
		fc.assert(
			fc.property(records, (record) => {
				const readings = unpackReadings(record.body);
				fc.pre(readings.length > 1);
				const trace = read(sessionCsv(record));
				const back = trace.rounds
					? broughtBack(sessionCsv(record))
					: recordOfImport(trace, { kind: 'threshold run', fromS: 0 }, makeHead().athlete, about);
				const first = trace.rounds ? 0 : readings[0]!.ms;
				expect(unpackReadings(back.body)).toEqual(
					readings.map((reading) => ({ ...reading, ms: reading.ms - first }))
				);
			})
		);
	});

	const lengthened: Amendment[] = [{ kind: 'extend rest', atMs: 200_000 }];
	const paused: Amendment[] = [
		{ kind: 'pause', atMs: 60_000 },
		{ kind: 'resume', atMs: 75_300 }
	];
	it.each<[string, Parameters<typeof boxed>[0]]>([
		['as it was planned', { plan, endedMs: wholeMs }],
		['with a warm-up', { plan: { ...plan, warmUpS: 60 }, endedMs: wholeMs + 60_000 }],
		['with a longer rest', { plan, amendments: lengthened, endedMs: wholeMs + 30_000 }],
		['with a pause', { plan, amendments: paused, endedMs: wholeMs + 15_300 }],
		[
			'with a round cut short and one added',
			{
				plan,
				amendments: [
					{ kind: 'stop round', atMs: 90_500 },
					{ kind: 'add round', atMs: 100_000 }
				],
				endedMs: wholeMs + 140_500
			}
		],
		[
			'of two blocks',
			{
				plan: {
					...plan,
					blocks: [{ activity: 'bag', roundCount: 2, roundS: 120, restS: 30, pauseS: 90 }]
				},
				endedMs: wholeMs + 390_000
			}
		]
	])('has the same rounds and rests at the same milliseconds: %s', (_, overrides) => {
		const record = boxed(overrides);
		const back = broughtBack(sessionCsv(record));
		expect(boxedPhases(back)).toEqual(boxedPhases(record));
		const drops = (one: SessionRecord) =>
			summaryOf(one).rounds.map(({ rest, activity }) => [
				rest?.bellBpm,
				rest?.drop60,
				rest?.verdict,
				activity
			]);
		expect(drops(back)).toEqual(drops(record));
		expect(drops(back).some(([, drop60]) => drop60 !== undefined)).toBe(true);
	});

	it('leaves the seconds of a pause out of the work, to the second', () => {
		const record = boxed({ plan, amendments: paused, endedMs: wholeMs + 15_300 });
		const back = broughtBack(sessionCsv(record));
		const worked = (one: SessionRecord) => summaryOf(one).workS;
		expect(worked(record)).toBe(540);
		expect(Math.abs(worked(back) - 540)).toBeLessThanOrEqual(1);
	});

	it('keeps the three still minutes of a recovery check as one rest', () => {
		const check = { ...plan, kind: 'recovery check' as const, coolDownS: 0 };
		const record = boxed({ plan: check, endedMs: 10_000 + 720_000 + 120_000 });
		const last = boxedPhases(broughtBack(sessionCsv(record))).at(-1)!;
		expect(last.kind).toBe('rest');
		// To the second behind the last row.
		expect(Math.floor((last.endMs - last.startMs) / 1000)).toBe(180);
	});
});
