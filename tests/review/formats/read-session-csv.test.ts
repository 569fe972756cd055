import { describe, expect, it } from 'vitest';
import { padsPlan } from '../../store/builders';
import { boxed } from './boxed';
import { boxedPhases, broughtBack, read } from './brought-back';
import { packReadings, unpackReadings } from '$lib/record/columns';
import { readRecording } from '$lib/review/formats/read-recording';
import { readSessionCsv } from '$lib/review/formats/read-session-csv';
import { sessionColumns, sessionCsv } from '$lib/review/formats/session-csv';
import type { SessionRecord } from '$lib/record/body';

const plan = { ...padsPlan, roundCount: 3 };
const wholeMs = 10_000 + 3 * 180_000 + 3 * 60_000 + 120_000;

describe('the table of a session that comes in', () => {
	it('is read as an older page wrote it, and as a spreadsheet saves it', () => {
		const record = boxed({ plan, endedMs: wholeMs });
		const rows = sessionCsv(record)
			.trimEnd()
			.split('\r\n')
			.map((row) => row.split(','));
		const older = rows.map((row) => row.slice(0, 6).join(',')).join('\r\n');
		expect(boxedPhases(broughtBack(older)).map(({ kind, round }) => [kind, round])).toEqual(
			boxedPhases(record).map(({ kind, round }) => [kind, round])
		);
		expect(read(older).isSimulated).toBeUndefined();
		expect(broughtBack(older).head.plan.activity).toBe('bag');
		const saved = rows.map((row, i) => row.map((cell) => (i > 0 ? cell.replace('.', ',') : cell)).join(';'));
		const back = broughtBack(
			`\uFEFF${saved.join('\n')}`.replaceAll('true', 'TRUE').replaceAll('false', 'FALSE')
		);
		expect(unpackReadings(back.body)).toEqual(unpackReadings(record.body));
		expect(boxedPhases(back)).toEqual(boxedPhases(record));
	});

	it('has no round more where a spreadsheet has rounded its times to the second', () => {
		// A round that began in the middle of a second, and packets that never come in step with them.
		const amendments = [{ kind: 'stop round' as const, atMs: 90_500 }];
		const { head, body } = boxed({ plan, amendments, endedMs: wholeMs });
		const jittered = unpackReadings(body).map((reading, i) => ({
			...reading,
			ms: reading.ms + (i % 9) * 77
		}));
		const text = sessionCsv({ head, body: packReadings(jittered) });
		const rounded = text.replace(/(?<=^|,)-?\d+\.\d+(?=,)/gm, (cell) => String(Math.round(Number(cell))));
		expect(rounded).not.toBe(text);
		const told = (one: SessionRecord) => boxedPhases(one).map(({ kind, round }) => [kind, round]);
		expect(told(broughtBack(rounded))).toEqual(told({ head, body }));
	});

	const whole = sessionCsv(boxed({ plan, endedMs: 40_000 }))
		.trimEnd()
		.split('\r\n');
	const withLine = (line: number, change: (row: string) => string) =>
		whole.map((row, i) => (i + 1 === line ? change(row) : row)).join('\r\n');
	it.each([
		[
			'a time that is none',
			withLine(7, (row) => row.replace(/^[^,]*/, 'soon')),
			/^Line 7: "soon" is no time/
		],
		[
			'a time that goes back',
			withLine(9, (row) => row.replace(/^[^,]*/, '-1.7')),
			/^Line 9: the time goes back/
		],
		['a time beyond any session', withLine(42, (row) => row.replace(/^[^,]*/, '9e9')), /^Line 42: "9e9"/],
		['a week and a day', withLine(42, (row) => row.replace(/^[^,]*/, '700000')), /^Line 42: "700000"/],
		[
			'a rate that is none',
			withLine(8, (row) => row.replace(/,96,/, ',fast,')),
			/^Line 8: "fast" is no heart rate/
		],
		[
			'contact of another kind',
			withLine(5, (row) => row.replace(',contact,', ',maybe,')),
			/^Line 5: "maybe"/
		],
		[
			'intervals that are none',
			withLine(5, (row) => row.split(',').toSpliced(5, 1, '1e9').join()),
			/^Line 5: "1e9" is no list of RR/
		],
		[
			'a phase of another kind',
			withLine(20, (row) => row.replace('work', 'yoga')),
			/^Line 20: "yoga" is no phase/
		],
		[
			'an unknown activity',
			withLine(20, (row) => row.replace('pads', 'chess')),
			/^Line 20: "chess" is no activity/
		],
		[
			'a mark that is none',
			withLine(20, (row) => row.replace(/false$/, 'perhaps')),
			/^Line 20: "perhaps" stands where only/
		],
		[
			'more pauses than can be kept',
			[
				whole[0],
				...Array.from({ length: 6000 }, (_, s) => `${s},work,1,150,contact,,${s},${s % 2 === 0},pads,,false`)
			].join('\r\n'),
			/^Line 5000: there are more phases and pauses than a session can have/
		],
		['a header alone', whole[0]!, /fewer than two rows/]
	])('is refused in words, with its line: %s', (_, text, words) => {
		const answer = readRecording(text);
		expect(answer).toMatchObject({ status: 'refused', problem: expect.stringMatching(words) });
		expect(answer).toMatchObject({ problem: expect.stringMatching(/Nothing was brought in/) });
	});

	it('is refused before it is cut up where it has more rows than any session', () => {
		const text = `${whole[0]}\r\n${'\n'.repeat(900_000)}`;
		expect(readRecording(text)).toMatchObject({
			status: 'refused',
			problem: expect.stringMatching(/over 400,000 rows/)
		});
	});

	it('is told from the register of a squad, which is taken in elsewhere', () => {
		expect(
			readRecording('day,athlete,minutes,activity,effort\r\n2026-03-01,Nerea,60,pads,6\r\n')
		).toMatchObject({
			status: 'refused',
			problem: expect.stringMatching(/register of a squad/)
		});
	});
});

describe('a table of a session row by row', () => {
	const table = (...rows: string[]) => [sessionColumns.join(), ...rows].join('\r\n');
	const answered = (...rows: string[]) => readSessionCsv(table(...rows))!;
	const traceOf = (...rows: string[]) => {
		const answer = answered(...rows);
		if (answer.status !== 'read') throw new Error(JSON.stringify(answer));
		return answer.trace;
	};
	const phasesOf = (...rows: string[]) => traceOf(...rows).rounds!.phases;

	it('has each reading since the first row, and each phase with its pauses', () => {
		expect(
			traceOf(
				'-0.5,,,90,not supported,,,,,,false',
				'0,get ready,1,91,contact,650.4 660.2,0,false,pads,,false',
				'10,work,1,92,contact,,0,false,pads,12,false',
				'11.25,work,1,0,no contact,,1.25,true,pads,,false',
				'12,work,1,93,contact,,2,false,pads,0,false',
				'190,closing,1,94,contact,,0,false,pads,,false',
				'250,,,95,contact,,,,,,false'
			)
		).toStrictEqual({
			points: [
				{ s: 0, bpm: 90, contact: 'not supported', rrMs: [] },
				{ s: 0.5, bpm: 91, contact: 'contact', rrMs: [650.4, 660.2] },
				{ s: 10.5, bpm: 92, contact: 'contact', rrMs: [], energyKJ: 12 },
				{ s: 11.75, bpm: 0, contact: 'no contact', rrMs: [] },
				{ s: 12.5, bpm: 93, contact: 'contact', rrMs: [], energyKJ: 0 },
				{ s: 190.5, bpm: 94, contact: 'contact', rrMs: [] },
				{ s: 250.5, bpm: 95, contact: 'contact', rrMs: [] }
			],
			rounds: {
				firstMs: -500,
				phases: [
					{ kind: 'get ready', round: 1, activity: 'pads', startMs: 0, pauses: [] },
					{
						...{ kind: 'work', round: 1, activity: 'pads', startMs: 10_000 },
						pauses: [{ fromMs: 11_250, toMs: 12_000 }]
					},
					{ kind: 'closing', round: 1, activity: 'pads', startMs: 190_000, pauses: [] }
				]
			},
			isSimulated: false,
			recognised: { form: 'a session of Corner Minute' }
		});
	});

	it('needs six of its columns, in whatever order; without one of them it is another table', () => {
		const needed = ['elapsed_s', 'phase', 'round', 'bpm', 'contact', 'rr_ms'];
		const cells = ['0', 'work', '1', '92', 'contact', '650'];
		const both = (columns: string[], row: string[]) => `${columns.join()}\n${row.join()}\n${row.join()}`;
		expect(readSessionCsv(both(needed.toReversed(), cells.toReversed()))).toMatchObject({
			trace: {
				points: [
					{ s: 0, bpm: 92, rrMs: [650] },
					{ s: 0, bpm: 92, rrMs: [650] }
				],
				rounds: { firstMs: 0, phases: [{ kind: 'work', round: 1, startMs: 0, pauses: [] }] }
			}
		});
		for (const column of needed) {
			const at = needed.indexOf(column);
			expect(readSessionCsv(both(needed.toSpliced(at, 1), cells.toSpliced(at, 1)))).toBeUndefined();
		}
		expect(readSessionCsv('elapsed_s\n0\n1')).toBeUndefined();
		expect(readSessionCsv('')).toBeUndefined();
	});

	it('has rounds only where one was boxed, and is simulated where a row says so', () => {
		const rest = (s: number, simulated: string) => `${s},rest,1,92,contact,,${s},false,pads,,${simulated}`;
		expect(traceOf(rest(0, ''), rest(1, ''))).not.toHaveProperty('rounds');
		expect(traceOf(rest(0, ''), rest(1, ''))).not.toHaveProperty('isSimulated');
		expect(traceOf(rest(0, 'false'), rest(1, '')).isSimulated).toBe(false);
		expect(traceOf(rest(0, 'TRUE'), rest(1, 'false')).isSimulated).toBe(true);
		expect(traceOf(rest(0, 'false'), rest(1, 'true')).isSimulated).toBe(true);
	});

	it('has a phase begin when its rows say, or with its first row', () => {
		const work = (s: number, since: string, round = 1) => `${s},work,${round},92,contact,,${since},,,,`;
		expect(phasesOf(work(5, ''), work(6, '')).map(({ startMs }) => startMs)).toEqual([5000]);
		expect(phasesOf(work(5, '3.2'), work(6, '4.2')).map(({ startMs }) => startMs)).toEqual([1800]);
		// Never before the one that it follows.
		expect(phasesOf(work(5, '0'), work(6, '4', 2)).map(({ startMs }) => startMs)).toEqual([5000, 5000]);
	});

	it('has a phase anew where its time begins anew, by two seconds or more, or where it was left', () => {
		const work = (s: number, since: string) => `${s},work,1,92,contact,,${since},,,,`;
		const starts = (...rows: string[]) => phasesOf(...rows).map(({ startMs }) => startMs);
		expect(starts(work(10, '10'), work(20, '18.001'))).toEqual([0]);
		expect(starts(work(10, '10'), work(20, '18'))).toEqual([0, 2000]);
		expect(starts(work(10, '10'), work(20, '0'))).toEqual([0, 20_000]);
		expect(starts(work(10, ''), '11,,,92,contact,,,,,,', work(12, ''))).toEqual([10_000, 12_000]);
		expect(starts(work(10, ''), '11,rest,1,92,contact,,,,,,', work(12, ''))).toEqual([
			10_000, 11_000, 12_000
		]);
		expect(starts(work(10, ''), '11,work,2,92,contact,,,,,,')).toEqual([10_000, 11_000]);
	});

	it('has a pause from its first row to the first that is none of it', () => {
		const row = (s: number, kind: string, paused: string) => `${s},${kind},1,92,contact,,,${paused},,,`;
		const pauses = (...rows: string[]) => phasesOf(...rows).map((one) => one.pauses);
		expect(pauses(row(0, 'work', 'true'), row(1, 'work', 'TRUE'), row(2, 'work', 'false'))).toEqual([
			[{ fromMs: 0, toMs: 2000 }]
		]);
		expect(
			pauses(row(0, 'work', ''), row(1, 'work', 'true'), row(2, 'work', ''), row(3, 'work', 'true'))
		).toEqual([
			[
				{ fromMs: 1000, toMs: 2000 },
				{ fromMs: 3000, toMs: Infinity }
			]
		]);
		expect(pauses(row(0, 'work', 'true'), row(5, 'rest', 'true'), row(6, 'rest', ''))).toEqual([
			[{ fromMs: 0, toMs: 5000 }],
			[{ fromMs: 5000, toMs: 6000 }]
		]);
	});

	const good = '4,work,1,92,contact,650,4,false,pads,12,false'.split(',');
	const withCell = (column: (typeof sessionColumns)[number], cell: string) =>
		good.map((one, i) => (sessionColumns[i] === column ? cell : one)).join();
	it.each([
		[
			'elapsed_s',
			['4', '691200'],
			['', 'x', '691200.001', '-691201'],
			/is no time in seconds that a session can have\.$/
		],
		['bpm', ['0', '92', '65535'], ['', 'x', '-1', '92.5', '65536'], /is no heart rate in beats a minute\.$/],
		['contact', ['contact', 'no contact'], ['', 'x'], /is none of not supported, no contact, contact\.$/],
		[
			'rr_ms',
			['', '0', '63999', '650 640.5', Array(255).fill('9').join(' ')],
			['x', '-1', '64000', '650 x', '650  640', Array(256).fill('9').join(' ')],
			/is no list of RR intervals in milliseconds\.$/
		],
		['energy_kj', ['', '0', '65535'], ['x', '-1', '1.5', '65536'], /is no energy in whole kilojoules\.$/],
		['round', ['', '0', '65535'], ['x', '-1', '1.5', '65536'], /is no number of a round\.$/],
		['activity', ['', 'pads', 'bag'], ['x', 'PADS'], /is no activity that this page knows\.$/],
		['phase_s', ['', '0', '4'], ['x', '-1', '4.001'], /is no time since the phase began\.$/],
		[
			'phase',
			['', 'warm-up', 'get ready', 'work', 'rest', 'closing', 'cool-down'],
			['x'],
			/is no phase of a session\.$/
		],
		['paused', ['', 'true', 'false', 'False'], ['x', '1'], /stands where only true or false can\.$/],
		['simulated', ['', 'true', 'FALSE'], ['x', '0'], /stands where only true or false can\.$/]
	] as const)(
		'takes a cell that may stand under %s, and names one that may not',
		(column, may, mayNot, words) => {
			const first = '0,,,90,contact,,,,,,';
			for (const cell of may) expect(answered(first, withCell(column, cell)).status).toBe('read');
			for (const cell of mayNot) {
				const quoted = cell.length > 60 ? `${cell.slice(0, 60)}…` : cell;
				const answer = answered(first, withCell(column, cell)) as { status: string; problem: string };
				expect(answer.status).toBe('refused');
				expect(answer.problem.startsWith(`Line 3: "${quoted}" `)).toBe(true);
				expect(answer.problem.replace(/ Nothing was brought in.*$/, '')).toMatch(words);
			}
		}
	);

	it('stands in order of its times, and has no phase before Start', () => {
		const at = (s: string) => `${s},,,90,contact,,,,,,`;
		expect(traceOf(at('3'), at('3')).points.map(({ s }) => s)).toEqual([0, 0]);
		expect(answered(at('3'), at('2.999'))).toMatchObject({
			problem: expect.stringMatching(/^Line 3: the time goes back\. Rows must stand in order\./)
		});
		expect(answered(at('-3'), '-2,work,1,90,contact,,,,,,')).toMatchObject({
			problem: expect.stringMatching(/^Line 3: a phase cannot begin before Start\./)
		});
	});

	it('has two rows with a heart rate at the least', () => {
		expect(answered('0,,,90,contact,,,,,,')).toMatchObject({
			problem: expect.stringMatching(/^The file has fewer than two rows with a heart rate\./)
		});
	});

	it('is not read where it is larger than any recording', () => {
		const text = table('0,,,90,contact,,,,,,', '1,,,90,contact,,,,,,');
		expect(readRecording(text).status).toBe('read');
		expect(readRecording(text.padEnd(20_000_001))).toMatchObject({
			problem: expect.stringMatching(/^The file is larger than any recording can be, so it was not read\./)
		});
	});
});
