import { describe, expect, it } from 'vitest';
import { padsPlan } from '../../store/builders';
import { boxed } from './boxed';
import { boxedPhases, broughtBack, read } from './brought-back';
import { packReadings, unpackReadings } from '$lib/record/columns';
import { readRecording } from '$lib/review/formats/read-recording';
import { sessionCsv } from '$lib/review/formats/session-csv';
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
