import { describe, expect, it } from 'vitest';
import { makeHead } from '../store/builders';
import type { KeptSession } from '$lib/review/progress';
import { weightScale } from '$lib/review/units';
import type { ReportedSession } from '$lib/review/reported-session';
import { progressText, reportedPoints, sessionText } from '$lib/review/report-text';
import type { Summary } from '$lib/record/summary';
import type { Verdict } from '$lib/physiology/recovery';
import { makeRound, makeSummary as summary } from './session-builders';

const round = (number: number, drop60: number | undefined, verdict: Verdict = 'not judged') =>
	makeRound(number, drop60, verdict);

const head = makeHead({
	startedAt: '2026-03-02T18:30:00.000Z',
	zone: 'Europe/Lisbon',
	endedMs: 720_000,
	practice: false
});
const athlete = { ...head.athlete, name: 'Red corner', thresholdBpm: 165 };

describe('the text of a session', () => {
	const report = (overrides: Partial<ReportedSession> = {}): ReportedSession => ({
		head: { ...head, athlete },
		edit: {},
		summary: summary(),
		...overrides
	});
	const textOf = (overrides: Partial<ReportedSession> = {}) =>
		sessionText('another coach', report(overrides));

	it('says which reading of a run the threshold stands on', () => {
		const onMean = { ...athlete, thresholdBasis: '20-minute mean' as const };
		expect(
			textOf({
				head: { ...head, athlete: onMean },
				summary: summary({ overS: 402, rounds: [round(1, 40, 'in the band')] })
			})
		).toContain('6:42 of 9:00 of work was over threshold (165, 20-minute mean).');
	});

	it('says what was done, what it came to, what it cannot say and what comes next', () => {
		const text = textOf({
			edit: { title: 'Tuesday pads', effort: 7, note: 'Left hand low.' },
			noteAt: '2026-03-03T09:00:00.000Z',
			summary: summary({
				rounds: [round(1, 44), round(2, undefined), round(3, 30)],
				meanDrop60: 37,
				drop60Count: 2,
				overS: 402,
				peakBpm: 188.6,
				fade: { trend: 'fading', slopeBpm: -5, slopeErrorBpm: 1 } as Summary['fade']
			})
		});
		expect(text.split('\n')).toEqual([
			'Tuesday pads, Mon 2 Mar 2026, 18:30',
			`Red corner, ${head.plan.activity}, 12:00 in all`,
			'Drops 44, 30: fading. 6:42 of 9:00 over threshold.',
			`What was done: Red corner trained: ${head.plan.activity}, 3 rounds, 9:00 of work. Effort, as the athlete felt it: 7 of 10. 1-minute drops: 44, 30. Round by round: fading. 6:42 of 9:00 of work was over threshold (165). Highest rate: 189 beats a minute.`,
			'Against the own usual: The usual drop is not known yet: it takes five like sessions.',
			expect.stringMatching(/^What it cannot say: A single drop is uncertain by about 20 %\. /) as string,
			'Restrictions: None noted.',
			'Next step: The drops became smaller from round to round: think about longer rests or easier rounds before more work is added.',
			'Note of the coach, Tue 3 Mar 2026: Left hand low.'
		]);
	});

	it('says of each unknown why, and never a number', () => {
		const text = textOf({
			head: { ...head, practice: true, athlete: { ...athlete, thresholdBpm: undefined } },
			summary: summary({ rounds: [round(1, undefined)], peakBpm: 170 })
		});
		expect(text).toContain('Simulated: it stays out of progress.');
		expect(text).toContain('These readings are simulated: they say nothing about a person.');
		expect(text).toContain('No drop: no rest of a full minute with a clean signal.');
		expect(text).toContain('No threshold was known, so nothing is said of time over it.');
		expect(text).not.toMatch(/undefined|NaN|Effort/);
	});

	it('is headed by its title, else by the plan that was put right, else by the one it was boxed by', () => {
		const heading = (edit: { title?: string; planName?: string }) => textOf({ edit }).split(',')[0];
		expect(heading({ title: 'Tuesday pads', planName: 'Eight on the bag' })).toBe('Tuesday pads');
		expect(heading({ title: '', planName: 'Eight on the bag' })).toBe('Eight on the bag');
		expect(heading({})).toBe(head.plan.name);
	});

	it('stands on the clock of the place it was boxed in', () => {
		const tokyo = textOf({ head: { ...head, athlete, zone: 'Asia/Tokyo' } });
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
		expect(rest.filter((line) => /^(Recovery speed|Threshold|Beat-to-beat change)/.test(line))).toEqual([]);
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

	it('compares resting rates and beat-to-beat change within the posture of the latest, and names it', () => {
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
