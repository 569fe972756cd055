import { afterEach, describe, expect, it } from 'vitest';
import { dayOf } from '$lib/record/athlete-changes';
import { unpackReadings } from '$lib/record/columns';
import { parseCsv, type ImportedTrace } from '$lib/review/csv-import';
import { restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { momentInName, recordOfImport, startedOn } from '$lib/review/imported';
import { summaryOf } from '$lib/review/summary';

const read = (text: string) => {
	const answer = parseCsv(text);
	if (answer.status !== 'read') throw new Error(answer.problem);
	return answer.trace;
};

const athlete = { athleteId: 'a', name: 'Odalys' };
const about = { id: 'r', startedAt: '2026-03-02T17:00:00.000Z', zone: 'UTC', fileName: 'run.csv' };
/** A trace of two rows, so many seconds apart. */
const lasting = (lengthS: number, others: Partial<ImportedTrace> = {}): ImportedTrace => ({
	points: [
		{ s: 0, bpm: 90.4 },
		{ s: lengthS, bpm: 90.5 }
	],
	recognised: {},
	...others
});

describe('a record out of an imported trace', () => {
	const run = (trace: ImportedTrace, fromS = 300) =>
		recordOfImport(trace, { kind: 'threshold run', fromS }, athlete, about);

	it('is one of that moment, of nobody’s strap but the file, without anything that happened', () => {
		const { plan: _, ...head } = run(lasting(1900)).head;
		expect(head).toStrictEqual({
			version: 1,
			id: 'r',
			groupId: 'r',
			startedAt: '2026-03-02T17:00:00.000Z',
			zone: 'UTC',
			endedMs: 1_901_000,
			amendments: [],
			athlete,
			strapName: 'Recording run.csv',
			practice: false,
			events: []
		});
		expect(run(lasting(1900, { isSimulated: true })).head.practice).toBe(true);
		const longNamed = recordOfImport(lasting(10), { kind: 'threshold run', fromS: 0 }, athlete, {
			...about,
			fileName: 'x'.repeat(200)
		});
		expect(longNamed.head.strapName).toBe(`Recording ${'x'.repeat(110)}`);
	});

	it('has a warm-up before the run, and a cool-down behind the minute after its last bell', () => {
		expect(run(lasting(1899.2), 300.4).head.plan).toStrictEqual({
			...thresholdRunPlan(300),
			name: 'Threshold run, recorded elsewhere',
			getReadyS: 0,
			// 1901 seconds less 300, 1200 and 60.
			coolDownS: 341
		});
		expect(run(lasting(1500)).head.plan.coolDownS).toBe(0);
		expect(run(lasting(20_000)).head.plan.coolDownS).toBe(14_400);
	});

	it('has quiet minutes with a cool-down straight behind them', () => {
		const { plan } = recordOfImport(
			lasting(480),
			{ kind: 'resting', fromS: 120, posture: 'sitting' },
			athlete,
			about
		).head;
		expect(plan).toStrictEqual({
			...restingPlan('sitting'),
			name: 'Resting, sitting, recorded elsewhere',
			warmUpS: 120,
			getReadyS: 0,
			// 481 seconds less 120 and 300.
			coolDownS: 61
		});
	});

	it('has each row as a reading, with what the file tells of it', () => {
		const points: ImportedTrace['points'] = [
			{ s: 0, bpm: 90.4 },
			{ s: 1.2345, bpm: 90.5, contact: 'contact', rrMs: [500, 250], energyKJ: 3 }
		];
		const readings = [
			{ ms: 0, bpm: 90, contact: 'not supported', rrMs: [] },
			{ ms: 1235, bpm: 91, contact: 'contact', rrMs: [500, 250], energyKJ: 3 }
		];
		expect(unpackReadings(run({ points, recognised: {} }).body)).toEqual(readings);
		// Only its rounds lie where the table has them.
		const rounds = {
			firstMs: -500,
			phases: [{ kind: 'work' as const, round: 1, startMs: 0, pauses: [] }]
		};
		const trace = { points, rounds, recognised: {} };
		expect(unpackReadings(run(trace).body)).toEqual(readings);
		const boxed = recordOfImport(trace, { kind: 'rounds', activity: 'bag' }, athlete, about);
		expect(unpackReadings(boxed.body).map(({ ms }) => ms)).toEqual([-500, 735]);
		expect(boxed.head).toMatchObject({
			plan: { activity: 'bag', roundCount: 1, followsGymBell: true },
			amendments: [{ kind: 'next', atMs: 0 }],
			endedMs: 1735
		});
	});
});

describe('a run out of an imported trace', () => {
	const zone = process.env.TZ;
	afterEach(() => {
		if (zone === undefined) delete process.env.TZ;
		else process.env.TZ = zone;
	});

	it('becomes a threshold run of the chosen 20 minutes', () => {
		const rows = Array.from(
			{ length: 1800 },
			(_, s) => `${s},${s < 300 ? 110 : s < 900 ? 160 : s < 1500 ? 180 : 120}`
		);
		const record = recordOfImport(
			read(['t,hr', ...rows].join('\n')),
			{ kind: 'threshold run', fromS: 300 },
			{ athleteId: 'a', name: 'Odalys' },
			{ id: 'r', startedAt: '2026-03-02T17:00:00.000Z', zone: 'UTC', fileName: 'run.csv' }
		);
		const { guided } = summaryOf(record);
		// The mean of 160 and 180 in equal parts is 170; less 5 % 161.5 (methods: common practice, no source).
		expect(guided?.meanBpm).toBeCloseTo(170, 9);
		expect(guided?.thresholdBpm).toBeCloseTo(161.5, 9);
		expect(guided?.reasons).toEqual([]);
	});

	it('becomes a resting rate of the chosen five minutes', () => {
		// 70 at first, then 58 for five minutes: the lowest minute of the four that count is 58.
		const rows = Array.from({ length: 480 }, (_, s) => `${s},${s < 120 ? 70 : 58}`);
		const record = recordOfImport(
			read(['t,hr', ...rows].join('\n')),
			{ kind: 'resting', fromS: 120, posture: 'lying' },
			{ athleteId: 'a', name: 'Odalys' },
			{ id: 'r', startedAt: '2026-03-02T07:00:00.000Z', zone: 'UTC', fileName: 'rest.csv' }
		);
		expect(summaryOf(record).guided).toMatchObject({ kind: 'resting', posture: 'lying', restBpm: 58 });
	});

	it('began when the name of the file says, where this page has written it', () => {
		process.env.TZ = 'Europe/Madrid';
		expect(momentInName('corner-minute-2026-03-02-19-30-Nerea-1x8fk2a.csv')).toBe('2026-03-02T18:30:00.000Z');
		expect(momentInName('run-2026-03-02-19-30.csv')).toBeUndefined();
		expect(momentInName('corner-minute-2026-13-41-19-30-x.csv')).toBeUndefined();
		expect(momentInName('copy of corner-minute-2026-03-02-19-30-x.csv')).toBeUndefined();
		expect(momentInName('corner-minute-2026-03-02-19-30.csv')).toBeUndefined();
	});

	it.each(['America/New_York', 'Europe/Madrid', 'Australia/Sydney'])(
		'keeps its time of day in %s on another day, and is noon where none is told',
		(place) => {
			process.env.TZ = place;
			// Between July and January each of these clocks is changed; the time of day stays.
			const { startedAt } = read('time,hr\n2026-07-05 21:30:15,120\n2026-07-05 21:30:16,121');
			const moved = new Date(startedOn('2026-01-31', { startedAt }));
			expect(dayOf(moved)).toBe('2026-01-31');
			expect([moved.getHours(), moved.getMinutes(), moved.getSeconds()]).toEqual([21, 30, 15]);
			const untold = new Date(startedOn('2026-03-02', {}));
			expect(dayOf(untold)).toBe('2026-03-02');
			expect(untold.getHours()).toBe(12);
		}
	);
});
