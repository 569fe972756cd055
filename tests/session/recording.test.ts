import { describe, expect, it } from 'vitest';
import { parseRecording, recordOfRecording } from '$lib/session/recording';
import { summaryOf } from '$lib/session/summary';

const read = (text: string) => {
	const answer = parseRecording(text);
	if (answer.status === 'refused') throw new Error(answer.problem);
	return answer.recording;
};
const points = [
	{ s: 0, bpm: 120 },
	{ s: 1, bpm: 121 },
	{ s: 2, bpm: 122.5 }
];

describe('a recording', () => {
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
		const recording = read(text);
		expect(recording.points).toEqual(points);
		expect(recording.recognised).toMatchObject({ separator, decimal, time });
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
		expect(parseRecording(text)).toEqual({ status: 'refused', problem: expect.stringMatching(sentence) });
		expect(parseRecording(text)).toHaveProperty(
			'problem',
			expect.stringMatching(/Nothing was brought in\.$/)
		);
	});

	it('never quotes a line at length', () => {
		const answer = parseRecording(`power ${'['.repeat(200_000)},watt\n1,2\n2,3`);
		expect(answer).toHaveProperty('problem', expect.stringMatching(/^Line 1 names no column for the time/));
		expect(JSON.stringify(answer).length).toBeLessThan(300);
	});

	it('becomes a threshold run of the chosen 20 minutes', () => {
		const rows = Array.from(
			{ length: 1800 },
			(_, s) => `${s},${s < 300 ? 110 : s < 900 ? 160 : s < 1500 ? 180 : 120}`
		);
		const record = recordOfRecording(
			read(['t,hr', ...rows].join('\n')),
			300,
			{ athleteId: 'a', name: 'Odalys' },
			{ id: 'r', startedAt: '2026-03-02T17:00:00.000Z', zone: 'UTC', fileName: 'run.csv' }
		);
		const { guided } = summaryOf(record);
		// The mean of 160 and 180 in equal parts is 170; less 5 % 161.5 (methods: common practice, no source).
		expect(guided?.meanBpm).toBeCloseTo(170, 9);
		expect(guided?.thresholdBpm).toBeCloseTo(161.5, 9);
		expect(guided?.reasons).toEqual([]);
	});
});
