import { afterEach, describe, expect, it } from 'vitest';
import { dayOf } from '$lib/record/athlete-changes';
import { parseCsv } from '$lib/review/csv-import';
import { momentInName, recordOfImport, startedOn } from '$lib/review/imported';
import { summaryOf } from '$lib/review/summary';

const read = (text: string) => {
	const answer = parseCsv(text);
	if (answer.status !== 'read') throw new Error(answer.problem);
	return answer.trace;
};

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
