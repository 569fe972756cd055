import { describe, expect, it } from 'vitest';
import { makeHead } from '../store/builders';
import type { KeptSession } from '$lib/review/progress';
import { weightScale } from '$lib/review/units';
import { progressText, reportedPoints, sessionText } from '$lib/review/report-text';
import type { RoundSummary, Summary } from '$lib/record/summary';
import type { Verdict } from '$lib/physiology/recovery';

const round = (
	number: number,
	drop60: number | undefined,
	verdict: Verdict = 'not judged'
): RoundSummary => ({
	round: number,
	attempt: 1,
	startMs: number,
	endMs: number,
	rest: {
		kind: 'rest',
		startMs: 0,
		endMs: 60_000,
		verdict,
		nearEdge: false,
		...(drop60 !== undefined && { drop60, drop60ErrorBpm: drop60 * 0.2 })
	}
});

const summary = (overrides: Partial<Summary> = {}): Summary => ({
	methodsVersion: 1,
	rounds: [],
	drop60Count: 0,
	lengthS: 0,
	workS: 540,
	costs: {
		energy: { reason: 'unknown' },
		metWorkKJ: { reason: 'unknown' },
		load: { reason: 'unknown' },
		isMaxEstimated: true
	},
	unusual: [],
	ignoresContact: false,
	...overrides
});

const head = makeHead({
	startedAt: '2026-03-02T18:30:00.000Z',
	zone: 'Europe/Lisbon',
	endedMs: 720_000,
	practice: false
});
const athlete = { ...head.athlete, name: 'Red corner', thresholdBpm: 165 };

describe('the text of a session', () => {
	it('says which reading of a run the threshold stands on', () => {
		const onMean = { ...athlete, thresholdBasis: '20-minute mean' as const };
		expect(sessionText({ ...head, athlete: onMean }, {}, summary({ overS: 402 }))).toContain(
			'Over threshold (165, 20-minute mean): 6:42 of 9:00 of work.'
		);
	});

	it('says what was measured, each drop with its error', () => {
		const text = sessionText(
			{ ...head, athlete },
			{ title: 'Tuesday pads', effort: 7, note: 'Left hand low.' },
			summary({
				rounds: [round(1, 44), round(2, undefined), round(3, 30)],
				meanDrop60: 37,
				drop60Count: 2,
				overS: 402,
				peakBpm: 188.6,
				fade: { trend: 'fading', slopeBpm: -5, slopeErrorBpm: 1 } as Summary['fade']
			})
		);
		expect(text.split('\n')).toEqual([
			'Tuesday pads, Mon 2 Mar 2026, 18:30',
			`Red corner, ${head.plan.activity}, 12:00 in all`,
			'Drop in the minute: 37 beats, mean of 2 rests that were not judged (44 ± 9, not measured, 30 ± 6).',
			'Over threshold (165): 6:42 of 9:00 of work.',
			'Peak: 189 beats a minute.',
			'Round by round: fading.',
			'How hard it felt: 7 of 10.',
			'Left hand low.'
		]);
	});

	it('says of each unknown why, and never a number', () => {
		const text = sessionText(
			{ ...head, practice: true, athlete: { ...athlete, thresholdBpm: undefined } },
			{},
			summary()
		);
		expect(text).toContain('Simulated strap.');
		expect(text).toContain('Drop in the minute: unknown, no rest of a full minute with a clean signal.');
		expect(text).toContain('Over threshold: unknown, no threshold is known.');
		expect(text).toContain('Peak: unknown, no clean signal.');
		expect(text).not.toMatch(/undefined|NaN|How hard/);
	});

	it('is headed by its title, else by the plan that was put right, else by the one it was boxed by', () => {
		const heading = (edit: { title?: string; planName?: string }) =>
			sessionText({ ...head, athlete }, edit, summary()).split(',')[0];
		expect(heading({ title: 'Tuesday pads', planName: 'Eight on the bag' })).toBe('Tuesday pads');
		expect(heading({ title: '', planName: 'Eight on the bag' })).toBe('Eight on the bag');
		expect(heading({})).toBe(head.plan.name);
	});

	it('stands on the clock of the place it was boxed in', () => {
		const tokyo = sessionText({ ...head, athlete, zone: 'Asia/Tokyo' }, {}, summary());
		// Nine hours ahead of UTC, all year.
		expect(tokyo).toContain('Tue 3 Mar 2026, 03:30');
	});
});

describe('the text of progress', () => {
	const kept = (startedAt: string, drops: number[]): KeptSession => ({
		head: { ...head, id: startedAt, startedAt },
		edit: {},
		summary: summary({
			rounds: drops.map((drop, i) => round(i + 1, drop, 'under the band')),
			drop60Count: drops.length
		})
	});
	const sessions = [
		kept('2026-03-02T12:00:00.000Z', [30, 32]),
		kept('2026-03-20T12:00:00.000Z', [34, 34]),
		kept('2026-04-10T12:00:00.000Z', [36, 38])
	];

	it('gives the latest median of each measure with what may be said of its change', () => {
		const [first, drop, ...rest] = progressText('Red corner', sessions).split('\n');
		expect(first).toBe('Red corner, 3 sessions, Mon 2 Mar 2026 to Fri 10 Apr 2026');
		expect(drop).toMatch(
			/^1-minute drop: 37 beats, \w[^.;]*\. The latest is the mean of 2 judged rests\. No clear change \(from 31 to 37/
		);
		expect(rest.filter((line) => /^(Recovery speed|Threshold|Beat-to-beat)/.test(line))).toEqual([]);
	});

	it('takes weights that were entered', () => {
		const found = reportedPoints(sessions, {
			log: [{ date: '2026-03-05', kg: 71.4 }],
			scale: weightScale('kg')
		});
		expect(found.find(({ name }) => name === 'Weight')?.points.map(({ value }) => value)).toContain(71.4);
	});

	it('keeps weight to itself where it is hidden, and writes it in the unit of the athlete', () => {
		expect(reportedPoints(sessions).map(({ name }) => name)).not.toContain('Weight');
		const log = [{ date: '2026-03-05', kg: 70 }];
		// 70 kg are 154.3 pounds (1 lb = 0.45359237 kg), and 154.3 = 11 x 14 + 0.3.
		expect(progressText('Red corner', sessions, { log, scale: weightScale('st') })).toMatch(
			/Weight: 11 st 0\.3/
		);
	});

	it('compares resting rates and RMSSD within the posture of the latest, and names it', () => {
		const rested = (startedAt: string, posture: 'lying' | 'sitting', restBpm: number): KeptSession => ({
			head: { ...head, id: startedAt, startedAt },
			edit: {},
			summary: summary({ guided: { kind: 'resting', posture, restBpm, rmssdMs: 90 - restBpm, reasons: [] } })
		});
		const mornings = [
			rested('2026-03-02T07:00:00.000Z', 'lying', 50),
			rested('2026-03-03T07:00:00.000Z', 'sitting', 62),
			rested('2026-03-04T07:00:00.000Z', 'lying', 52)
		];
		// Lying 50 and 52: the median is 51; with the 62 of sitting it would be 52. RMSSD 40 and 38: 39.
		const lines = progressText('Red corner', mornings).split('\n');
		expect(lines).toContainEqual(
			expect.stringMatching(/^Resting rate: 51 beats a minute, lying; 1 in another posture left out\. /)
		);
		expect(lines).toContainEqual(
			expect.stringMatching(/^Beat-to-beat change: 39 ms, lying; 1 in another posture left out\. /)
		);
	});

	it('says so where there is nothing', () => {
		expect(progressText('Red corner', [])).toBe('Red corner: no session to compare yet.');
	});
});
