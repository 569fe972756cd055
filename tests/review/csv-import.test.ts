import { afterEach, describe, expect, it } from 'vitest';
import { dayOf } from '$lib/record/athlete-changes';
import { cellsOf, firstLines, linesOf, parseCsv, short } from '$lib/review/csv-import';

const read = (text: string) => {
	const answer = parseCsv(text);
	if (answer.status !== 'read') throw new Error(answer.problem);
	return answer.trace;
};
const points = [
	{ s: 0, bpm: 120 },
	{ s: 1, bpm: 121 },
	{ s: 2, bpm: 122.5 }
];

describe('an imported trace', () => {
	it.each([
		['commas and seconds', 'time,hr\n0,120\n1,121\n2,122.5', 'comma', 'point', 'seconds'],
		[
			'semicolons and decimal commas',
			'Zeit;Puls\n0,0;120\n1,0;121\n2,0;122,5',
			'semicolon',
			'comma',
			'seconds'
		],
		[
			'tabs and a clock',
			'lap\telapsed\tHeart rate\n1\t0:59:58\t120\n1\t0:59:59\t121\n1\t1:00:00\t122.5',
			'tab',
			'point',
			'hours, minutes, seconds'
		],
		[
			'minutes that roll over into hours',
			'time,bpm\n59:58,120\n59:59,121\n1:00:00,122.5',
			'comma',
			'point',
			'hours, minutes, seconds'
		],
		[
			'a clock over midnight',
			'time|bpm\n23:59:59|120\n00:00:00|121\n00:00:01|122.5',
			'bar',
			'point',
			'hours, minutes, seconds'
		],
		[
			'dates, and quotes round a separator',
			'"timestamp","note","heart rate"\n"2026-03-02T17:00:00Z","a, b",120\n"2026-03-02T17:00:01Z","",121\n"2026-03-02T17:00:02Z","",122.5',
			'comma',
			'point',
			'date and time'
		],
		[
			'the day first',
			'\uFEFFZeit;Herzfrequenz\r\n31.12.2026 23:59:59;120\r\n01.01.2027 00:00:00;121\r\n01.01.2027 00:00:01;122,5\r\n',
			'semicolon',
			'comma',
			'date and time'
		],
		['no header', '0;120\n1;121\n2;122.5', 'semicolon', 'point', 'seconds']
	])('is read with %s', (_, text, separator, decimal, time) => {
		const trace = read(text);
		expect(trace.points).toEqual(points);
		expect(trace.recognised).toMatchObject({
			separator,
			decimal,
			time: expect.stringContaining(`(${time})`)
		});
	});

	it.each([
		'time,step rate,heart rate',
		'Zeit,Schrittfrequenz,Herzfrequenz',
		'Time (s),Cadence [spm],HR [bpm]',
		'elapsed_s,speed_m_s,heart_rate_bpm',
		'Time,Power (W),HeartRate',
		'Uhrzeit,Trittfrequenz (1/min),Puls (1/min)',
		'Timestamp,Respiration Rate (brpm),Heart Rate (bpm)',
		'seconds,Rate (spm),Rate (bpm)',
		'Tempo (min/km),Zeit,Herzfrequenz (S/min)',
		'TIME,ALTITUDE (M),PULSE',
		'Temps,Vitesse,Fréquence cardiaque',
		'Hora,Cadencia,Frecuencia cardíaca',
		'Time,Max heart rate,Heart rate',
		'time,Heart Rate Zone,HR',
		'Time (hr),HRV,bpm',
		'time,frequency (Hz),Rate'
	])('takes the column of the heart and names it: %s', (header) => {
		const time = header
			.split(',')
			.findIndex((name) => /^(zeit|uhrzeit|time|temps|hora|elapsed|sec)/i.test(name));
		const rows = [0, 1, 2].map((s) => (time === 0 ? `0:0${s},172,151` : `172,0:0${s},151`));
		const { points, recognised } = read([header, ...rows].join('\n'));
		expect(points.map(({ s, bpm }) => [s, bpm])).toEqual([0, 1, 2].map((s) => [s, 151]));
		expect(recognised.rate).toBe(header.split(',')[2]);
	});

	it('asks where two columns may as well be the heart, and takes the one that is told', () => {
		const text = 'time,Puls,Heart rate\n0,172,151\n1,173,152';
		expect(parseCsv(text)).toEqual({
			status: 'asks',
			problem: expect.stringMatching(/Choose/),
			columns: [
				{ at: 1, name: 'Puls' },
				{ at: 2, name: 'Heart rate' }
			]
		});
		expect(parseCsv(text, 2)).toMatchObject({ trace: { points: [{ bpm: 151 }, { bpm: 152 }] } });
		expect(parseCsv(text, 0).status).toBe('asks');
	});

	it('asks in a table without names, where more than one column could be a rate', () => {
		expect(parseCsv('0:00;172;151;3\n0:01;172;151;3')).toMatchObject({
			columns: [
				{ at: 1, name: 'second (172)' },
				{ at: 2, name: 'third (151)' }
			]
		});
		expect(read('0:00;3;151\n0:01;3;152').points[0]!.bpm).toBe(151);
	});

	it.each(['time,step rate\n0,172\n1,172', 'time,Cadence (rpm)\n0,90\n1,90'])(
		'takes nothing else for the heart: %j',
		(text) => {
			expect(parseCsv(text)).toMatchObject({
				status: 'refused',
				problem: expect.stringMatching(/names no column for the heart rate/)
			});
		}
	);

	it.each([
		['time (ms),hr', [0, 1000, 2000], 'milliseconds'],
		['Time [min],hr', ['0', '0.5', '1'], 'minutes']
	] as const)('heeds the unit of the time: %s', (header, times, form) => {
		const { points, recognised } = read([header, ...times.map((time) => `${time},120`)].join('\n'));
		expect(points.at(-1)!.s).toBe(form === 'minutes' ? 60 : 2);
		expect(recognised.time).toBe(`${header.split(',')[0]} (${form})`);
	});

	it('is refused before its lines are cut up, where they are too many', () => {
		expect(parseCsv(`time,hr\n0,120\n1,121${'\n'.repeat(1_000_000)}`)).toMatchObject({
			problem: expect.stringMatching(/over 200000 rows/)
		});
	});

	it('is sent on to the right screen where it is a session', () => {
		expect(parseCsv('{"format":"corner-minute session"}')).toMatchObject({
			problem: expect.stringMatching(/under Backup/)
		});
	});

	it('leaves an empty rate as a gap', () => {
		expect(read('time,hr\n0,120\n1,\n2,122').points).toEqual([
			{ s: 0, bpm: 120 },
			{ s: 2, bpm: 122 }
		]);
	});

	it.each([
		['a word for a rate', 'time,hr\n0,120\n1,fast', /^Line 3: "fast" is no heart rate/],
		['a word for a time', 'time,hr\n0,120\n\nsoon,121', /^Line 4: "soon" is no time/],
		['an impossible rate', 'time,hr\n0,120\n1,999', /^Line 3: "999" is no heart rate/],
		['a time that goes back', 'time,hr\n5,120\n4,121', /^Line 3: the time goes back/],
		['two forms of time', 'time,hr\n0:01,120\n2,121', /^Line 3: .* written otherwise/],
		[
			'a time beyond any session',
			'time,hr\n0,120\n14401,121',
			/^Line 3: .* more than 4 hours after the first/
		],
		['a time beyond any number', `time,hr\n0,120\n${'9'.repeat(400)},121`, /^Line 3: .* more than 4 hours/],
		['more text than any run has', 'time,hr\n0,120\n1,121'.padEnd(20_000_001), /larger than any recording/],
		['no column for the rate', 'time,power\n0,120\n1,121', /^Line 1 names no column for the heart rate/],
		['no separator', 'time\n1\n2', /^Line 1 has no separator/],
		['nothing in it', '', /no rows/]
	])('is refused whole with %s', (_, text, sentence) => {
		expect(parseCsv(text)).toEqual({ status: 'refused', problem: expect.stringMatching(sentence) });
		expect(parseCsv(text)).toHaveProperty(
			'problem',
			expect.stringMatching(/Nothing was brought in: correct the file and choose it again\.$/)
		);
	});

	it('never quotes a line at length', () => {
		const answer = parseCsv(`power ${'['.repeat(200_000)},watt\n1,2\n2,3`);
		expect(answer).toHaveProperty('problem', expect.stringMatching(/^Line 1 names no column for the time/));
		expect(JSON.stringify(answer).length).toBeLessThan(300);
	});
});

describe('what is recognised of a table', () => {
	it('is said in words, with a decimal comma wherever one stands', () => {
		expect(read('Zeit;Puls\n0;120\n1;121').recognised).toEqual({
			separator: 'semicolon',
			decimal: 'point',
			time: 'Zeit (seconds)',
			rate: 'Puls'
		});
		expect(read('Zeit;Puls\n0;120\n1,5;121').recognised.decimal).toBe('comma');
		expect(read('Zeit;Puls\n0;120,5\n1;121').recognised.decimal).toBe('comma');
		expect(read('"a, b";Zeit;Puls\n"1,5";0;120\nx,y;1;121').recognised.decimal).toBe('point');
	});

	it('is a time counted from the first row, also where its rate is missing', () => {
		expect(read('time,hr\n100,\n101,120\n102.5,121').points).toEqual([
			{ s: 1, bpm: 120 },
			{ s: 2.5, bpm: 121 }
		]);
		expect(read('time,hr\n100,120\n100,121').points.map(({ s }) => s)).toEqual([0, 0]);
		expect(read('time,hr\n0,120\n14400,121').points[1]!.s).toBe(14_400);
	});

	it('is the moment of the first row, where the times have dates', () => {
		const dated = read('time,hr\n2026-03-02T17:00:00Z,\n2026-03-02T17:00:01Z,120\n2026-03-02T17:00:02Z,121');
		expect(dated.startedAt).toBe('2026-03-02T17:00:00.000Z');
		expect(read('time,hr\n0,120\n1,121')).not.toHaveProperty('startedAt');
	});

	it('is a midnight only where the clock goes back by more than half a day', () => {
		expect(read('time,hr\n23:59:00,120\n0:01:00,121\n0:02:00,122').points.map(({ s }) => s)).toEqual([
			0, 120, 180
		]);
		for (const text of ['time,hr\n13:00:00,120\n1:00:00,121', 'time,hr\n86000,120\n10,121'])
			expect(parseCsv(text)).toHaveProperty(
				'problem',
				expect.stringMatching(/^Line 3: the time goes back\./)
			);
	});

	it('is a rate up to 300, a zero among them, and two of them at the least', () => {
		expect(read('time,hr\n0,0\n1,300').points.map(({ bpm }) => bpm)).toEqual([0, 300]);
		for (const rate of ['-1', '300.5'])
			expect(parseCsv(`time,hr\n0,120\n1,${rate}`)).toHaveProperty(
				'problem',
				expect.stringMatching(`^Line 3: "${rate}" is no heart rate in beats a minute\\.`)
			);
		for (const text of ['time,hr\n0,120\n1,', 'time,hr\n0,\n1,'])
			expect(parseCsv(text)).toHaveProperty(
				'problem',
				expect.stringMatching(/^The file has fewer than two rows with a heart rate\./)
			);
	});

	it('is a column without a name by what stands in its first five rows', () => {
		const asked = (...rows: string[]) => {
			const answer = parseCsv(rows.join('\n'));
			return answer.status === 'asks'
				? answer.columns
				: answer.status === 'read' && answer.trace.points[0]!.bpm;
		};
		// 25 to 250 beats a minute.
		expect(asked('0;25;24', '1;250;120')).toBe(25);
		expect(asked('0;120;250', '1;121;251')).toEqual(120);
		expect(asked('0;;120', '1;251;121')).toBe(120);
		expect(asked('0;24;300', '1;24;300')).toEqual([
			{ at: 1, name: 'second' },
			{ at: 2, name: 'third' }
		]);
		expect(asked(...[0, 1, 2, 3, 4, 5].map((s) => `${s};120;${s < 5 ? 121 : 999}`))).toEqual([
			{ at: 1, name: 'second (120)' },
			{ at: 2, name: 'third (121)' }
		]);
		expect(asked('0;9;9;9;9;9;120;130', '1;9;9;9;9;9;120;130')).toEqual([
			{ at: 6, name: 'number 7 (120)' },
			{ at: 7, name: 'number 8 (130)' }
		]);
		expect(asked('0;9', '1;10')).toBe(9);
	});

	it('is up to a thousand columns, and what is asked is never long', () => {
		const wide = (columns: number) => {
			const rest = ';'.repeat(columns - 2);
			return parseCsv(`time;hr${rest}\n0;120${rest}\n1;121${rest}`);
		};
		expect(wide(1000).status).toBe('read');
		expect(wide(1001)).toHaveProperty(
			'problem',
			expect.stringMatching(/^Line 1 has over 1000 columns, more than any recording has\./)
		);
		const long = `Puls ${'x'.repeat(80)}`;
		expect(parseCsv(`time;${long};Heart rate\n0;120;121\n1;120;121`)).toMatchObject({
			columns: [
				{ at: 1, name: `${long.slice(0, 60)}…` },
				{ at: 2, name: 'Heart rate' }
			]
		});
	});

	it('is the separator that every one of its first rows has, tabs before semicolons before commas before bars', () => {
		for (const [text, name] of [
			['time\thr\tx;y\n0\t120\t1;1\n1\t121\t1;1', 'tab'],
			['time;hr;x,y\n0;120;1,1\n1;121;1,1', 'semicolon'],
			['time,hr,x|y\n0,120,1|1\n1,121,1|1', 'comma'],
			['time, s|hr\n0|120\n1|121', 'bar']
		] as const)
			expect(read(text).recognised.separator).toBe(name);
	});
});

describe('the lines and cells of a text', () => {
	it('are those that are not empty, numbered as they stand in the file', () => {
		const lines = [
			{ line: 'a', number: 1 },
			{ line: ' b', number: 3 },
			{ line: 'c', number: 5 }
		];
		for (const end of ['\n', '\r\n', '\r'])
			expect(firstLines(['\uFEFFa', '', ' b', '\t ', 'c', ''].join(end), 9)).toEqual(lines);
		expect(firstLines('a\n\n b\n \nc', 2)).toEqual(lines.slice(0, 2));
		expect(firstLines('a', 9)).toEqual([{ line: 'a', number: 1 }]);
		expect(firstLines('', 9)).toEqual([]);
		expect(firstLines('a\n', 0)).toEqual([]);
	});

	it('are refused beyond the most of them, or where more than every second one is empty', () => {
		expect(linesOf('a\nb\nc', 3)?.map(({ line }) => line)).toEqual(['a', 'b', 'c']);
		expect(linesOf('a\nb\nc', 2)).toBeUndefined();
		expect(linesOf('a\n\n\n\nb', 2)).toHaveLength(2);
		expect(linesOf('a\n\n\n\n\nb', 2)).toBeUndefined();
	});

	// RFC 4180, 2.5 to 2.7: quotes round a cell may hold the separator, and two of them are one.
	it.each([
		['a,b', ['a', 'b']],
		[' a , b ', ['a', 'b']],
		['a,,', ['a', '', '']],
		['', ['']],
		['"a,b",c', ['a,b', 'c']],
		['"say ""ring""",x', ['say "ring"', 'x']],
		['"",x', ['', 'x']],
		['"""",x', ['"', 'x']],
		['"a;b";c', ['a;b;c']]
	])('are cut at each separator that no quotes hold: %s', (line, cells) => {
		expect(cellsOf(line, ',')).toEqual(cells);
	});

	it('are quoted up to sixty letters', () => {
		expect(short('x'.repeat(60))).toBe('x'.repeat(60));
		expect(short('x'.repeat(61))).toBe(`${'x'.repeat(60)}…`);
	});
});

describe('when an imported trace began', () => {
	const zone = process.env.TZ;
	afterEach(() => {
		if (zone === undefined) delete process.env.TZ;
		else process.env.TZ = zone;
	});
	const began = (first: string, second: string) => read(`time,hr\n${first},120\n${second},121`);

	// In July 2026 New York is 4 hours behind UTC, Madrid 2 and Sydney 10 hours ahead (IANA time zone database).
	it.each([
		['America/New_York', '2026-07-06T01:30:00.000Z'],
		['Europe/Madrid', '2026-07-05T19:30:00.000Z'],
		['Australia/Sydney', '2026-07-05T11:30:00.000Z']
	])('is the clock on the wall of %s where the file names no zone', (place, moment) => {
		process.env.TZ = place;
		const iso = began('2026-07-05 21:30:00', '2026-07-05 21:30:01');
		expect(iso.startedAt).toBe(moment);
		expect(began('05.07.2026 21:30:00', '05.07.2026 21:30:01').startedAt).toBe(moment);
		expect(dayOf(new Date(iso.startedAt!))).toBe('2026-07-05');
	});

	it.each([
		['Z', '2026-07-05T21:30:00.000Z', '2026-07-05'],
		['+02:00', '2026-07-05T19:30:00.000Z', '2026-07-05'],
		['+0530', '2026-07-05T16:00:00.000Z', '2026-07-05'],
		['-07:00', '2026-07-06T04:30:00.000Z', '2026-07-06']
	])('takes the zone %s from the file', (suffix, moment, day) => {
		process.env.TZ = 'America/New_York';
		const { startedAt } = began(`2026-07-05T21:30:00${suffix}`, `2026-07-05T21:30:01${suffix}`);
		expect(startedAt).toBe(moment);
		expect(dayOf(new Date(startedAt!))).toBe(day);
	});

	it('lets the night in which the clock is put forward last no longer', () => {
		process.env.TZ = 'Europe/Madrid';
		// On 29 March 2026 the clock goes from 2 to 3 in the night.
		const { points } = began('2026-03-29 01:59:59', '2026-03-29 03:00:00');
		expect(points.at(-1)?.s).toBe(1);
	});
});
