import fc from '../../by-chance';
import { describe, expect, it } from 'vitest';
import { makeHead, makeReading } from '../../store/builders';
import { boxed } from './boxed';
import { packReadings, unpackReadings, type Reading } from '$lib/record/columns';
import { readRecording } from '$lib/review/formats/read-recording';
import { gapLine, rrStretchesOf, rrText, simulatedLine } from '$lib/review/formats/rr-text';
import { recordOfImport } from '$lib/review/imported';
import { summaryOf } from '$lib/review/summary';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';

const about = { id: 'in-1', startedAt: '2026-03-02T18:30:00.000Z', zone: 'Europe/Lisbon', fileName: 'a.txt' };

const recordOf = (readings: Reading[], head: Partial<RecordHead> = {}): SessionRecord => ({
	head: makeHead({ amendments: [], events: [], ...head }),
	body: packReadings(readings)
});
function read(text: string) {
	const answer = readRecording(text);
	if (answer.status !== 'read') throw new Error(answer.problem);
	return answer.trace;
}
const broughtBack = (text: string) =>
	recordOfImport(read(text), { kind: 'resting', fromS: 0, posture: 'sitting' }, makeHead().athlete, about);
const lengthsIn = (record: SessionRecord) =>
	rrStretchesOf(record).map((stretch) => stretch.map(({ rrMs }) => rrMs));

describe('RR intervals as plain text', () => {
	const readings = [
		makeReading({ ms: 1000, rrMs: [400.390625, 410.15625] }),
		makeReading({ ms: 2000, rrMs: [] }),
		makeReading({ ms: 2300, rrMs: [1000] }),
		makeReading({ ms: 30_000, rrMs: [500] })
	];

	it('are one in ms a line, in the order of the beats, with a line where beats are missing', () => {
		expect(rrText(recordOf(readings))).toBe(`400.4\n410.2\n1000.0\n${gapLine}\n500.0\n`);
	});

	it('say first that they are simulated, and nothing else where all is well', () => {
		expect(rrText(recordOf(readings.slice(0, 1), { practice: true }))).toBe(
			`${simulatedLine}\n400.4\n410.2\n`
		);
		expect(rrText(recordOf(readings.slice(0, 1)))).toBe('400.4\n410.2\n');
	});

	it('are parted where the session stood paused, where the signal was lost and where contact was', () => {
		const beats = [1, 2, 3, 4].map((s) => makeReading({ ms: s * 1000, rrMs: [1000] }));
		const pause = [
			{ kind: 'pause', atMs: 2100 },
			{ kind: 'resume', atMs: 2200 }
		] as const;
		const lost = [
			{ kind: 'signal lost', ms: 2100 },
			{ kind: 'signal back', ms: 2200 }
		] as const;
		for (const head of [{ amendments: [...pause] }, { events: [...lost] }])
			expect(rrText(recordOf(beats, head))).toBe(`1000.0\n1000.0\n${gapLine}\n1000.0\n1000.0\n`);
		const off = beats.map((beat, i) => (i === 1 ? { ...beat, contact: 'no contact' as const } : beat));
		expect(rrText(recordOf(off))).toBe(`1000.0\n${gapLine}\n1000.0\n1000.0\n`);
	});

	it('can be read by programs that pass over # lines, and by those that pick out whatever looks like a number', () => {
		const text = rrText(recordOf(readings, { practice: true }));
		const sent = [400.4, 410.2, 1000, 500];
		// As numpy.loadtxt, gnuplot and R's read.table do (their manuals: "#" begins a comment).
		const passedOver = text.split('\n').filter((line) => line && !line.startsWith('#'));
		expect(passedOver.map(Number)).toEqual(sent);
		// Any number, and runs of two digits and more that begin with none of 0.
		expect(text.match(/\d+\.\d+/g)!.map(Number)).toEqual(sent);
		expect(text.match(/[1-9]\d+/g)!.map(Number)).toEqual(sent.map(Math.floor));
	});
});

describe('RR intervals brought back from plain text', () => {
	it('are the same to the 1/1024 s, in the same stretches, whatever the strap sent', () => {
		const stretch = fc.array(fc.integer({ min: 200, max: 3000 }), { minLength: 12, maxLength: 40 });
		fc.assert(
			fc.property(fc.array(stretch, { minLength: 1, maxLength: 4 }), (stretches) => {
				let ms = 0;
				const sent = stretches.flatMap((units) => {
					ms += 60_000;
					return units.map((unit) => {
						ms += Math.round((unit * 1000) / 1024);
						return makeReading({ ms, rrMs: [(unit * 1000) / 1024] });
					});
				});
				const record = recordOf(sent);
				expect(lengthsIn(record)).toHaveLength(stretches.length);
				expect(lengthsIn(broughtBack(rrText(record)))).toEqual(lengthsIn(record));
			})
		);
	});

	it('come in packets of about a second, each with the mean rate of its beats', () => {
		const { points } = read('800\n800\n1200\n600\n600\n');
		expect(points).toEqual([
			{ s: 1.6, bpm: 75, rrMs: [800, 800] },
			{ s: 2.8, bpm: 50, rrMs: [1200] },
			{ s: 4, bpm: 100, rrMs: [600, 600] }
		]);
	});

	it('give the resting rate and the beat-to-beat change of five quiet minutes', () => {
		// Every beat 1000 ms, then 990, then 1000: neighbours differ by 10, so RMSSD is 10 by its definition.
		const text = Array.from({ length: 400 }, (_, i) => (i % 2 === 0 ? '1000' : '990')).join('\n');
		const { guided } = summaryOf(broughtBack(text));
		expect(guided?.restBpm).toBeCloseTo(60_000 / 995, 0);
		expect(guided?.rmssdMs).toBeCloseTo(10, 0);
	});

	it('stay simulated, and have their gaps told', () => {
		const record = boxed({ practice: true, endedMs: 200_000 }, (s) => s > 60 && s < 75);
		const trace = read(rrText(record));
		expect(trace.isSimulated).toBe(true);
		expect(trace.recognised.gaps).toMatch(/^1, each shown as 3 s/);
		expect(broughtBack(rrText(record)).head.practice).toBe(true);
		expect(unpackReadings(broughtBack(rrText(record)).body).flatMap(({ rrMs }) => rrMs)).toEqual(
			unpackReadings(record.body).flatMap(({ rrMs }) => rrMs)
		);
	});

	it('are known under lines that tell nothing, and other tables are not taken for them, however many those are', () => {
		// One more line each would once have doubled the time that the look at them took.
		const blank = '\n \n# told\n\r\n'.repeat(100);
		expect(read(`${blank}800\n810\n790\n`).points).toHaveLength(2);
		const table = readRecording(`${'\n'.repeat(1000)}time,hr\n0,120\n1,121\n`);
		expect(table).toMatchObject({ trace: { points: [{ bpm: 120 }, { bpm: 121 }] } });
	});

	it.each([
		['a word', '800\n810\nbeat\n', /^Line 3: "beat" is no RR interval in milliseconds/],
		['less than nothing', '800\n-5\n', /^Line 2: "-5"/],
		['longer than any', '800\n64000\n', /^Line 2: "64000"/],
		['two numbers', '800\n810 820\n', /^Line 2: "810 820"/],
		['seconds', Array.from({ length: 400 }, () => '0.81').join('\n'), /look like seconds/],
		['one beat', '800\n', /fewer than two seconds/],
		['more lines than any recording', '800\n'.repeat(400_001), /over 400,000 lines/]
	])('are refused in words: %s', (_, text, words) => {
		expect(readRecording(text)).toMatchObject({ status: 'refused', problem: expect.stringMatching(words) });
	});
});
