import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { registerRows } from '$lib/review/register';
import { readRegisterTable, registerTable, type RegisterTable } from '$lib/review/register-csv';
import { csvText } from '$lib/review/formats/csv-text';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

const athletes = [
	{ id: 'ath-1', name: 'Nerea' },
	{ id: 'ath-2', name: 'Bo' }
];
const today = '2026-03-10';
function read(text: string, told = {}): Extract<RegisterTable, { status: 'read' }> {
	const table = readRegisterTable(text, athletes, today, told);
	if (table.status !== 'read') throw new Error(table.problem);
	return table;
}
const head = 'day,athlete,minutes,activity,effort\n';

describe('a table of trainings', () => {
	it('is read by the words of its header, whatever their order, language and separator', () => {
		const table = read(
			'Name;Datum;Dauer;Training;Anstrengung\nnerea;2026-03-01;60;Pads;6,5\nBo;2026-03-01;45;Sack;\n'
		);
		expect(table.places).toEqual({ athlete: 0, day: 1, minutes: 2, activity: 3, effort: 4 });
		expect(table.entries).toEqual([
			{
				line: 2,
				athleteId: 'ath-1',
				name: 'nerea',
				date: '2026-03-01',
				training: { activity: 'Pads', minutes: 60, effort: 6.5 }
			},
			{
				line: 3,
				athleteId: 'ath-2',
				name: 'Bo',
				date: '2026-03-01',
				training: { activity: 'Sack', minutes: 45 }
			}
		]);
	});
	it('guesses no column silently: of two that may be meant somebody says which', () => {
		const text = 'date,name,minutes,duration,activity\n2026-03-01,Nerea,60,55,pads\n';
		expect(read(text).places).not.toHaveProperty('minutes');
		expect(read(text, { places: { minutes: 3 } }).entries[0]?.training?.minutes).toBe(55);
		expect(read('when,name,minutes\n2026-03-01,Nerea,60\n').entries).toEqual([]);
	});
	it('asks whether the day or the month stands first where both may be', () => {
		const text = `${head}03/04/2026,Nerea,60,pads,5\n`;
		expect(read(text)).not.toHaveProperty('order');
		expect(read(text).entries).toEqual([]);
		expect(read(text, { order: 'month first' }).entries[0]?.date).toBe('2026-03-04');
		expect(read(`${head}04.03.2026,Nerea,60,pads,5\n25.02.2026,Bo,60,pads,5\n`).entries[0]?.date).toBe(
			'2026-03-04'
		);
	});
	it.each([
		['2026-03-01,Nerea,60,pads,11', /Line 2: Effort lies between 0 and 10/],
		['2026-03-01,Nerea,0,pads,5', /Line 2: Minutes lie between 1 and 1,440/],
		['2026-03-01,Nerea,1500,pads,5', /Line 2: Minutes/],
		['2026-03-01,Nerea,an hour,pads,5', /Line 2: "an hour" is no number of minutes/],
		['2026-03-01,Nerea,60,pads,hard', /Line 2: "hard" is no effort/],
		['2026-03-11,Nerea,60,pads,5', /Line 2: 2026-03-11 is still to come/],
		['2026-02-30,Nerea,60,pads,5', /Line 2: "2026-02-30" is no day/],
		['2026-03-01,Ludmila,60,pads,5', /Line 2: Nobody here is called "Ludmila"/],
		['2026-03-01,,60,pads,5', /Line 2: It names nobody/]
	])('names a row that cannot be true, %s, and takes everything else', (row, problem) => {
		const table = read(`${head}${row}\n2026-03-01,Bo,60,pads,5\n`);
		expect(table.problems.map((one) => one.problem)).toEqual([expect.stringMatching(problem)]);
		expect(table.entries.map(({ name }) => name)).toEqual(['Bo']);
	});
	it('takes the first where one athlete stands twice, and a second kind of training of the day as well', () => {
		const table = read(
			`${head}2026-03-01,Nerea,60,pads,5\n2026-03-01,nerea,50,Pads,6\n2026-03-01,Nerea,30,running,3\n`
		);
		expect(table.entries.map(({ line }) => line)).toEqual([2, 4]);
		expect(table.problems).toEqual([
			{
				line: 3,
				problem: expect.stringMatching(/^Line 3: nerea stands on 2026-03-01 with Pads in line 2 already/)
			}
		]);
	});
	it('takes as many of 100,000 rows as a table may have, and says where it stopped', () => {
		const rows = Array.from({ length: 100_000 }, (_, i) => {
			const day = new Date(Date.UTC(1800, 0, 1 + i)).toISOString().slice(0, 10);
			return `${day},Nerea,60,pads,5`;
		});
		const table = read(head + rows.join('\n'));
		expect(table.entries).toHaveLength(25_000);
		expect(table.problems).toEqual([
			{ line: 25_002, problem: expect.stringMatching(/^Line 25002 and those after it: .*25,000 rows/) }
		]);
	});
	it('reads a million blank lines without keeping one, and still names the right line', () => {
		const table = read(`${head}${'\n'.repeat(1_000_000)}2026-03-01,Ludmila,60,pads,5\n`);
		expect(table.problems).toEqual([
			{ line: 1_000_002, problem: expect.stringMatching(/^Line 1000002: Nobody/) }
		]);
	});
	it('has a thousand columns at most', () => {
		const wide = (columns: number) =>
			`${head.trim()}${','.repeat(columns - 5)}\n2026-03-01,Nerea,60,pads,5\n`;
		expect(read(wide(1000)).entries).toHaveLength(1);
		expect(readRegisterTable(wide(1001), athletes, today)).toEqual({
			status: 'refused',
			problem: 'The first line has over 1000 columns, more than any register has. Nothing was taken in.'
		});
	});
	it('takes a day of rest', () => {
		expect(read(`${head}2026-03-01,Nerea,,Rest,\n`).entries[0]).not.toHaveProperty('training');
	});
	it.each([
		['', /no rows/],
		[head, /no rows/],
		['day\n2026-03-01\n', /names no columns/]
	])('is refused whole where it is none: %j', (text, problem) => {
		const table = readRegisterTable(text, athletes, today);
		expect(table).toEqual({ status: 'refused', problem: expect.stringMatching(problem) });
	});
	it('never throws, whatever stands in it', () => {
		fc.assert(
			fc.property(fc.array(fc.array(fc.string(), { maxLength: 6 }), { maxLength: 8 }), (cells) => {
				const table = readRegisterTable(head + csvText(cells), athletes, today);
				expect(['read', 'refused']).toContain(table.status);
			})
		);
	});
	it.each([
		['Tag;Sportler;Minuten;Aktivität;Anstrengung', ';'],
		['Datum\tName\tDauer\tTraining\tAnstrengung', '\t'],
		['Fecha,Atleta,Minutos,Actividad,Esfuerzo', ','],
		['Día|Nombre|mins|work|felt', '|'],
		['Jour;Boxeur;Durée;Activité;Effort', ';'],
		['Date,Nom,min,done,rating', ','],
		['Data;Atleta;Durata;Attività;Sforzo', ';'],
		['Day,Who,Length,Session,How hard', ','],
		['The_day,Alias,Duration (min),What,Effort 0-10', ',']
	])('has its columns found in many words: %s', (header, sign) => {
		const row = ['2026-03-01', 'Bo', '60', 'pads', '5'].join(sign);
		const { places, entries, header: names } = read(`${header}\n${row}\n`);
		expect(names).toEqual(header.split(sign));
		expect(places).toEqual({ day: 0, athlete: 1, minutes: 2, activity: 3, effort: 4 });
		expect(entries.map(({ training }) => training)).toEqual([{ activity: 'pads', minutes: 60, effort: 5 }]);
	});
	it('takes a header that speaks of two columns for neither, and two of one column neither', () => {
		const placesOf = (header: string) => read(`${header}\n2026-03-01,Bo,60\n`).places;
		expect(placesOf('Training day,Alias,Minutes')).toEqual({ athlete: 1, minutes: 2 });
		expect(placesOf('Training day,Alias,What')).toEqual({ day: 0, athlete: 1 });
	});
	it('needs a day and an athlete alone, and calls what has no name a training', () => {
		const table = read('day,athlete,minutes\n2026-03-01,Bo,60\n');
		expect(table.entries).toEqual([
			{
				...{ line: 2, athleteId: 'ath-2', name: 'Bo', date: '2026-03-01' },
				training: { activity: 'training', minutes: 60 }
			}
		]);
		expect(table.entries[0]!.training).not.toHaveProperty('effort');
		// A row that ends early has the rest of its cells empty.
		expect(read(`${head}2026-03-01,Bo,60\n`).entries[0]!.training).toEqual({
			activity: 'training',
			minutes: 60
		});
		// Without one of the two its columns have to be told first: no row is at fault.
		for (const text of ['minutes,athlete\n60,Bo\n', 'day,minutes\n2026-03-01,60\n'])
			expect(read(text)).toMatchObject({ entries: [], problems: [] });
	});
	it('says how its days are written, by those that can be read in one way alone', () => {
		const orderOf = (...days: string[]) => {
			const { order, entries } = read(head + days.map((day) => `${day},Bo,60,pads,5\n`).join(''));
			return [order, ...entries.map(({ date }) => date)];
		};
		expect(orderOf('2026-03-01', '2026/3/2', '2026.03.04')).toEqual([
			'year first',
			'2026-03-01',
			'2026-03-02',
			'2026-03-04'
		]);
		expect(orderOf('13/02/2026', '3-2-2026')).toEqual(['day first', '2026-02-13', '2026-02-03']);
		expect(orderOf('02/13/2026', '3.2.2026')).toEqual(['month first', '2026-02-13', '2026-03-02']);
		expect(orderOf('2026-03-01', '13.02.2026')).toEqual(['day first', '2026-03-01', '2026-02-13']);
		// What is no day says nothing of how the others are written.
		expect(orderOf('2026-03-01', 'soon')).toEqual(['year first', '2026-03-01']);
		expect(orderOf('03/04/2026', 'about 13/02/2026')).toEqual([undefined]);
		// The twelfth may still be a month.
		expect(orderOf('12/12/2025')).toEqual([undefined]);
		expect(orderOf('2026-03-01', '03/04/2026')).toEqual([undefined]);
	});
	it.each([
		'01/02/26',
		'12026-03-01',
		'2026-03-011',
		'2026-3',
		'2026-03-01 18:00',
		'2026-00-10',
		'2026-13-01',
		''
	])('takes nothing else for a day: %j', (day) => {
		expect(read(`${head}${day},Bo,60,pads,5\n`, { order: 'day first' })).toMatchObject({
			entries: [],
			problems: [{ line: 2, problem: `Line 2: "${day}" is no day. Write it as 2026-03-01.` }]
		});
	});
	it('takes today, and not tomorrow', () => {
		expect(read(`${head}2026-03-10,Bo,60,pads,5\n`).entries).toHaveLength(1);
		expect(read(`${head}2026-03-11,Bo,60,pads,5\n`).problems).toEqual([
			{ line: 2, problem: 'Line 2: 2026-03-11 is still to come. Only days that have begun are taken.' }
		]);
	});
	it('takes a row for nobody where two here bear the name', () => {
		const twice = [...athletes, { id: 'ath-3', name: ' bo ' }];
		expect(readRegisterTable(`${head}2026-03-01,BO,60,pads,5\n`, twice, today)).toMatchObject({
			entries: [],
			problems: [
				{
					line: 2,
					problem: 'Line 2: Two athletes here are called "BO". Give one of them another name first.'
				}
			]
		});
	});
	it('quotes no more than sixty letters of a cell', () => {
		const problemOf = (name: string) => read(`${head}2026-03-01,${name},60,pads,5\n`).problems[0]!.problem;
		expect(problemOf('x'.repeat(60))).toContain(`"${'x'.repeat(60)}"`);
		expect(problemOf('x'.repeat(61))).toContain(`"${'x'.repeat(60)}…"`);
	});
	it('takes the first of two days of rest, and a rest that lasted for a training', () => {
		const table = read(
			`${head}2026-03-01,Bo,0,REST,\n2026-03-01,Bo,,rest,\n2026-03-02,Bo,30,rest,2\n2026-03-03,Bo,20,rest day,\n`
		);
		expect(table.entries.map(({ line, training }) => [line, training])).toEqual([
			[2, undefined],
			[4, { activity: 'rest', minutes: 30, effort: 2 }],
			[5, { activity: 'rest day', minutes: 20 }]
		]);
		expect(table.problems).toEqual([
			{
				line: 3,
				problem:
					'Line 3: Bo stands on 2026-03-01 at rest in line 2 already. The first was taken; enter a second training of the kind in the register.'
			}
		]);
	});
	it('is refused where it is longer than any register, by one letter', () => {
		const text = `${head}2026-03-01,Bo,60,pads,5\n`;
		expect(read(text.padEnd(5_000_000)).entries).toHaveLength(1);
		expect(readRegisterTable(text.padEnd(5_000_001), athletes, today)).toEqual({
			status: 'refused',
			problem: 'The file is larger than any register can be, so it was not read. Nothing was taken in.'
		});
	});
	it('goes out by day, one row a training and one a day of rest, and none for what is not known', () => {
		const [nerea, bo] = registerRows(
			athletes,
			new Map([['ath-1', makeDay(makeEntry({ effort: undefined }), makeEntry({ id: 'b', sameAs: 'e1' }))]]),
			[makeTraining({ athleteId: 'ath-2', minutes: 0.3, effort: 4 })]
		);
		const [rested, unknown] = registerRows(athletes, new Map([['ath-1', restDay]]), []);
		expect(
			registerTable([
				{ date: '2026-03-03', row: bo! },
				{ date: '2026-03-02', row: rested! },
				{ date: '2026-03-02', row: unknown! },
				{ date: '2026-03-01', row: nerea! },
				{ date: '2026-03-01', row: bo! }
			])
		).toEqual([
			['day', 'athlete', 'minutes', 'activity', 'effort'],
			['2026-03-01', 'Nerea', 60, 'pads', undefined],
			['2026-03-01', 'Bo', 1, 'pads', 4],
			['2026-03-02', 'Nerea', undefined, 'rest', undefined],
			['2026-03-03', 'Bo', 1, 'pads', 4]
		]);
	});
	it('comes back as it went out', () => {
		const named = [
			{ id: 'ath-1', name: '=SUM(A1), "Nerea"' },
			{ id: 'ath-2', name: 'Bo' }
		];
		const rows = [
			{ date: '2026-03-02', row: registerRows(named, new Map([['ath-1', restDay]]), [])[0]! },
			...registerRows(
				named,
				new Map([['ath-1', makeDay(makeEntry({ effort: 6.5 }), makeEntry({ id: 'b', sameAs: 'e1' }))]]),
				[makeTraining({ athleteId: 'ath-2', minutes: 41.6 })]
			).map((row) => ({ date: '2026-03-01', row }))
		];
		const table = readRegisterTable(csvText(registerTable(rows)), named, today);
		if (table.status !== 'read') throw new Error(table.problem);
		expect(table.problems).toEqual([]);
		expect(table.entries.map(({ date, athleteId, training }) => [date, athleteId, training])).toEqual([
			['2026-03-01', 'ath-1', { activity: 'pads', minutes: 60, effort: 6.5 }],
			['2026-03-01', 'ath-2', { activity: 'pads', minutes: 42 }],
			['2026-03-02', 'ath-1', undefined]
		]);
	});
	it('comes back whatever somebody is called, whatever was done and however hard it felt', () => {
		// A name and an activity are of one line; blanks around them are nobody's.
		const anything = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }).filter((text) => {
			const isOneLine = !/[\r\n\u2028\u2029]/.test(text);
			return isOneLine && text === text.trim() && !/^rest$/i.test(text);
		});
		const words = fc.oneof(anything, fc.constantFrom('=1+1', '＝1+1', "'=1+1", "''-1", '@Bo', 'a,"b";c'));
		const training = fc.record({
			activity: words,
			minutes: fc.integer({ min: 1, max: 600 }),
			effort: fc.option(
				fc.integer({ min: 0, max: 100 }).map((tenths) => tenths / 10),
				{ nil: undefined }
			)
		});
		fc.assert(
			fc.property(words, training, (name, { effort, ...told }) => {
				const one = { id: 'ath-1', name };
				const done = { ...told, ...(effort !== undefined && { effort }) };
				const day = makeDay(makeEntry({ effort: undefined, ...done }));
				const row = registerRows([one], new Map([['ath-1', day]]), [])[0]!;
				const table = readRegisterTable(csvText(registerTable([{ date: '2026-03-01', row }])), [one], today);
				expect(table).toMatchObject({ status: 'read', problems: [] });
				expect(table).toMatchObject({
					entries: [{ athleteId: 'ath-1', date: '2026-03-01', training: done }]
				});
			})
		);
	});
});
