import { describe, expect, it } from 'vitest';
import { reportFigures } from '$lib/review/report-figures';
import { readers, reportSections } from '$lib/review/report-sections';
import type { Athlete } from '$lib/record/athlete';
import type { Blow } from '$lib/record/blow';
import { withBlow, withStop } from '$lib/record/blow-changes';
import { reportedSession, type ReportedSession } from '$lib/review/reported-session';
import { makeHead } from '../store/builders';
import { makeRound, makeSummary } from './session-builders';

const head = makeHead({ startedAt: '2026-03-02T18:30:00.000Z', zone: 'Europe/Lisbon', practice: false });
const boxing: ReportedSession = {
	head: { ...head, athlete: { ...head.athlete, name: 'Red', thresholdBpm: 165 } },
	edit: { effort: 7 },
	summary: makeSummary({
		rounds: [makeRound(1, 49), makeRound(2, 41), makeRound(3, 33)],
		drop60Count: 3,
		meanDrop60: 41,
		overS: 402,
		peakBpm: 188.6
	}),
	usual: { middle: 38.2, low: 35.6, high: 42.1, sessionCount: 6, restCount: 18 }
};
const run: ReportedSession = {
	...boxing,
	head: { ...boxing.head, plan: { ...head.plan, kind: 'threshold run' } },
	summary: makeSummary({ workS: 1200, guided: { kind: 'threshold run', reasons: [] } }),
	run: { meanBpm: 167.6, bpm: 159.2, confidence: 'fair', reasons: [], coverage: 1 }
};
const resting: ReportedSession = {
	...boxing,
	head: { ...boxing.head, plan: { ...head.plan, kind: 'resting', posture: 'lying' } },
	edit: {},
	summary: makeSummary({ guided: { kind: 'resting', posture: 'lying', restBpm: 52.3, reasons: [] } })
};
const check: ReportedSession = {
	...boxing,
	head: { ...boxing.head, plan: { ...head.plan, kind: 'recovery check' } },
	summary: { ...boxing.summary, guided: { kind: 'recovery check', tauS: 41.4, tauErrorS: 5, reasons: [] } },
	previousCheck: {
		...{ id: 'before', startedAt: '2026-02-20T18:00:00.000Z', zone: 'Europe/Lisbon', tauS: 44, drops: [40] },
		words: 'No clear change.'
	}
};
const kinds = { boxing, run, resting, check };

const said = (reader: (typeof readers)[number], report: ReportedSession) =>
	reportSections(reader, report)
		.map(({ title, lines }) => `${title}\n${lines.join('\n')}`)
		.join('\n');

/** Without the one in the measure's name. */
const numbersIn = (text: string) => text.replaceAll('1-minute', '').match(/\d[\d:]*/g);

describe('the report of a session', () => {
	it.each(Object.entries(kinds))(
		'says the same numbers of a %s to each reader, in other words',
		(_, report) => {
			const numbers = readers.map((reader) => numbersIn(said(reader, report)));
			expect(numbers[0]!.length).toBeGreaterThan(0);
			for (const others of numbers) expect(others).toEqual(numbers[0]);
			expect(new Set(readers.map((reader) => said(reader, report))).size).toBe(readers.length);
		}
	);

	it.each(Object.entries(kinds))(
		'tells of a %s what was done, the usual, the limits and a next step',
		(_, report) => {
			expect(reportSections('a parent', report).map(({ title }) => title)).toEqual([
				'What was done',
				'Against the own usual',
				'What it cannot say',
				'Restrictions',
				'Next step'
			]);
		}
	);

	it('sets each drop against the own usual', () => {
		// By hand: 36 to 42 is as usual, so 49 is more and 33 less.
		expect(said('another coach', boxing)).toContain(
			'Usual drop: 38, mostly 36 to 42, from 6 like sessions. This time: 49 more than usual; 41 as usual; 33 less than usual.'
		);
	});

	it('names the check before, with what may be said of the two', () => {
		expect(said('another coach', check)).toContain(
			'The check before, Fri 20 Feb 2026: 44 s. No clear change.'
		);
	});

	it('says that an athlete is restricted and at least until when, and never why', () => {
		const sick = { ...boxing.head.athlete, slowingMedicine: true as const };
		const reasons = boxing.summary.rounds.map((round) => ({
			...round,
			rest: {
				...round.rest!,
				verdict: 'not judged' as const,
				reason: 'Medicine that slows the heart: no verdict.'
			}
		}));
		const owner: Athlete = {
			id: 'ath-1',
			name: 'Nerea',
			noSparringUntil: '2026-03-20',
			pregnant: true,
			notes: 'blow to the head'
		};
		const report = reportedSession(
			{ edit: {} },
			{
				record: { head: { ...boxing.head, athlete: sick }, body: {} as never },
				summary: { ...boxing.summary, rounds: reasons },
				pictures: {} as never
			},
			owner,
			{},
			'2026-03-02'
		);
		for (const reader of readers) {
			const text = said(reader, report);
			expect(text).toContain('Restricted, at least until Fri 20 Mar 2026.');
			expect(text).not.toMatch(/medicine|pregnan|blow|sparring/i);
		}
		const restrictionOn = (athlete: Athlete, today: string) =>
			reportedSession(
				{ edit: {} },
				{ record: { head, body: {} as never }, summary: boxing.summary, pictures: {} as never },
				athlete,
				{},
				today
			).restriction;
		// No day opens a lock.
		expect(restrictionOn(owner, '2026-03-20')).toEqual({});
		const blow: Blow = { day: '2026-03-01', step: '3', since: '2026-03-05T12:00:00.000Z' };
		const hurt = withBlow({ id: 'ath-1', name: 'Nerea' }, blow, '2026-03-05');
		expect(restrictionOn(hurt, '2026-03-06')).toEqual({});
		const lock = { day: '2026-03-01', step: '3' as const, standDownUntil: '2026-03-20' };
		const locked = withStop({ id: 'ath-1', name: 'Nerea', locks: [lock] });
		expect(restrictionOn(locked, '2026-03-06')).toEqual({ atLeastUntil: '2026-03-20' });
		const clearance = { by: 'Dr Aalto', day: '2026-03-09' };
		const back = withBlow(hurt, { ...blow, step: '6', clearance }, '2026-03-20');
		expect(restrictionOn(back, '2026-03-20')).toBeUndefined();
	});
});

describe('the figures of a report', () => {
	it.each([
		[boxing, ['1-minute drop 41', 'Over threshold 6:42', 'Peak 189', 'Effort 7']],
		[run, ['Mean of the 20 minutes 168', 'That mean less 5 % 159', 'Confidence fair', 'Effort 7']],
		[resting, ['Resting rate 52']],
		[check, ['Recovery speed 41 s', '1-minute drop 41', 'Over threshold 6:42', 'Peak 189', 'Effort 7']]
	])('are those of its kind, and none that is not known', (report, figures) => {
		expect(reportFigures(report).map(({ name, value }) => `${name} ${value}`)).toEqual(figures);
	});
});
