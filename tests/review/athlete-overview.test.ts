import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { Blow } from '$lib/record/blow';
import {
	changeInBrief,
	dueTests,
	hasOlderSessions,
	latestSentence,
	overviewPictures,
	progressSentence,
	restrictionWords
} from '$lib/review/athlete-overview';
import { testsOf } from '$lib/review/athlete-tests';
import { measurementsOf, type Measurement } from '$lib/review/progress-pictures';
import type { KeptSession } from '$lib/review/progress';
import { weightScale } from '$lib/review/units';
import { recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { makeHead } from '../store/builders';
import { summaryOf } from './kept-session';

const nowMs = Date.parse('2026-11-28T12:00:00Z');
const card: Athlete = { id: 'ath-1', name: 'Nerea' };
const blow: Blow = { day: '2026-11-20', step: '2A', since: '2026-11-22T12:00:00.000Z' };
const clearance = { by: 'Dr Aalto', day: '2026-11-27' };
const onDay = (day: string, overrides: Partial<KeptSession> = {}): KeptSession => ({
	head: makeHead({ id: day, startedAt: `${day}T18:00:00.000Z` }),
	edit: {},
	...overrides
});
const boxed = (day: string, drops: number[]) => onDay(day, { summary: summaryOf(drops) });
const ran = (day: string, thresholdBpm?: number) =>
	onDay(day, {
		head: makeHead({ id: day, startedAt: `${day}T18:00:00.000Z`, plan: thresholdRunPlan(600) }),
		summary: summaryOf([], {
			guided: {
				kind: 'threshold run',
				...(thresholdBpm && { thresholdBpm, meanBpm: thresholdBpm / 0.95 }),
				reasons: thresholdBpm ? [] : ['stopped after 9:10 of 20:00']
			}
		})
	});
const checked = (day: string) =>
	onDay(day, {
		head: makeHead({ id: day, startedAt: `${day}T18:00:00.000Z`, plan: recoveryCheckPlan(30) }),
		summary: summaryOf([38, 40], { guided: { kind: 'recovery check', tauS: 61.4, reasons: [] } })
	});
const measured = (sessions: KeptSession[], measure: Measurement['measure']) =>
	measurementsOf(sessions, { log: [], scale: weightScale('kg') }).find((one) => one.measure === measure)!;

describe('a change in brief', () => {
	it('says on how many days it was measured and how many it takes', () => {
		expect(changeInBrief(measured([boxed('2026-11-02', [40])], 'drop at 60'))).toBe(
			'Measured on one day; a change can be told from 3 on.'
		);
		expect(
			changeInBrief(measured([boxed('2026-11-02', [40]), boxed('2026-11-04', [41])], 'drop at 60'))
		).toBe('Measured on 2 days; a change can be told from 3 on.');
	});

	it('tells no change of drops that lie within their error (20 % between days, Al Haddad et al. 2011)', () => {
		const days = ['2026-11-02', '2026-11-04', '2026-11-06'].map((day, i) => boxed(day, [40 + i]));
		expect(changeInBrief(measured(days, 'drop at 60'))).toBe('No clear change over 3 measured days.');
	});

	it('tells one that leaves the error behind, from where to where', () => {
		// Six runs on one line from 150 to 175: 5 beats a run, each with an error of 4 (own rule), and none of it scatter.
		const runs = ['05-01', '06-01', '07-01', '08-01', '09-01', '10-01'].map((day, i) =>
			ran(`2026-${day}`, 150 + 5 * i)
		);
		expect(changeInBrief(measured(runs, 'threshold'))).toBe('Clearly higher: from 150 to 175.');
		expect(progressSentence(measurementsOf(runs))).toBe('Clearly changed: threshold higher.');
	});

	it('gives what has no known noise its ends alone, from three days on', () => {
		const weighed = (...kilos: number[]) =>
			changeInBrief(
				measurementsOf([], {
					log: kilos.map((kg, i) => ({ date: `2026-10-${String(1 + 9 * i).padStart(2, '0')}`, kg })),
					scale: weightScale('kg')
				}).find(({ measure }) => measure === 'weight')!
			);
		expect(weighed(61.2)).toBe('One day so far.');
		expect(weighed(61.2, 60.4)).toBe('The days so far.');
		expect(weighed(61.2, 63, 60.4)).toBe('61.2 at the start, 60.4 now.');
		expect(weighed(61.2, 63, 61.2)).toBe('The days so far.');
	});

	it('is silent where nothing was measured', () => {
		expect(changeInBrief(measured([], 'drop at 60'))).toBe('');
	});
});

describe('progress in a sentence', () => {
	it('names what has not changed, and says so where there is too little', () => {
		const days = ['2026-11-02', '2026-11-04', '2026-11-06'].map((day) => boxed(day, [40]));
		expect(progressSentence(measurementsOf(days))).toBe(
			'No clear change: 1-minute drop and rate after 1 min.'
		);
		expect(progressSentence(measurementsOf(days.slice(1)))).toBe(
			'Too few measurements yet to speak of a change.'
		);
	});
});

describe('all that was measured, in a sentence', () => {
	const runs = ['05-01', '06-01', '07-01', '08-01', '09-01', '10-01'].map((day, i) =>
		ran(`2026-${day}`, 150 + 5 * i)
	);
	const quiet = (day: string) =>
		onDay(day, {
			head: makeHead({ id: day, startedAt: `${day}T07:00:00.000Z`, plan: restingPlan('lying') }),
			summary: summaryOf([], { guided: { kind: 'resting', posture: 'lying', restBpm: 51, reasons: [] } })
		});

	it('has what has changed before what has not, and the last of several behind "and"', () => {
		const days = ['2026-11-02', '2026-11-04', '2026-11-06'];
		const sessions = [...runs, ...days.map((day) => boxed(day, [40])), ...days.map(quiet)];
		const told = measurementsOf(sessions.toSorted((a, b) => (a.head.startedAt < b.head.startedAt ? -1 : 1)));
		expect(progressSentence(told)).toBe(
			'Clearly changed: threshold higher. No clear change: 1-minute drop, rate after 1 min and resting rate.'
		);
	});
});

describe("an athlete's first page", () => {
	it('has a figure and a sentence for each picture, and says what would bring one that is missing', () => {
		const pictures = overviewPictures(
			measurementsOf([boxed('2026-11-02', [40])], {
				log: [{ date: '2026-11-03', kg: 61.26 }],
				scale: weightScale('kg')
			}),
			{ ...card, thresholdBpm: 161.5 }
		);
		expect(pictures.map(({ name, now, sentence }) => [name, now, sentence])).toEqual([
			['1-minute drop', '40', 'Measured on one day; a change can be told from 3 on.'],
			['Threshold', '162', 'On the card; nothing to draw from the last year.'],
			['Resting rate', undefined, 'Five quiet minutes with the strap bring it.'],
			['Weight', '61.3', 'One day so far.']
		]);
	});

	it('draws of each kind the year up to its last, and tells the change over that', () => {
		const last = boxed('2026-11-02', [40]);
		const pictures = (first: string) =>
			overviewPictures(measurementsOf([boxed(first, [20]), ran('2024-05-01', 160), last]), card).map(
				({ measure, points }) => [measure, points.map(({ value }) => Math.round(value))]
			);
		expect(pictures('2025-11-02')).toEqual([
			['drop at 60', [20, 40]],
			['threshold', [160]],
			['resting rate', []]
		]);
		expect(pictures('2025-11-01')[0]).toEqual(['drop at 60', [40]]);
	});

	it('knows of older sessions by their number where they are not listed, and by their days where they are', () => {
		const of = (...days: string[]) => days.map((day) => boxed(day, [40]));
		expect(hasOlderSessions(of('2026-11-02', '2025-11-02'), 2)).toBe(false);
		expect(hasOlderSessions(of('2026-11-02', '2025-11-02'), 3)).toBe(true);
		expect(hasOlderSessions(of('2026-11-02', '2025-11-01'), 2)).toBe(true);
		expect(hasOlderSessions([], 0)).toBe(false);
		expect(hasOlderSessions([], 1)).toBe(true);
	});

	it('has no weight where it is hidden', () => {
		expect(overviewPictures(measurementsOf([]), card).map(({ name }) => name)).not.toContain('Weight');
	});

	it('leads with the latest session and what it came to', () => {
		expect(latestSentence([boxed('2026-11-02', [30]), boxed('2026-11-26', [38])], nowMs)).toMatch(
			/^Last session Thu 26 Nov: .+, 1-minute drop 38\.$/
		);
		expect(latestSentence([ran('2026-11-26')], nowMs)).toBe('Last session Thu 26 Nov: Threshold run.');
		expect(latestSentence([], nowMs)).toBe('No session with a strap yet.');
		expect(latestSentence([], nowMs, true)).toBe('No session with a strap within a year.');
	});
});

describe('tests that are due (own rules: a threshold after eight weeks, a recovery check a week)', () => {
	const withThreshold: Athlete = { ...card, thresholdBpm: 162, thresholdDate: '2026-11-01' };

	it('are both where neither was ever made', () => {
		expect(dueTests(card, [], nowMs, 56)).toEqual([
			{ test: 'Threshold run', why: 'No threshold is known.' },
			{ test: 'Recovery check', why: 'There was none yet.' }
		]);
		expect(dueTests(card, [], nowMs, 56, true)?.at(-1)?.why).toBe('There was none within a year.');
	});

	it('are none while the threshold is fresh and the check not older than a week', () => {
		expect(dueTests(withThreshold, [checked('2026-11-21')], nowMs, 56)).toEqual([]);
	});

	it('come with the age of what was measured last', () => {
		// 2026-09-20 to 2026-11-28 are 69 days: nine whole weeks.
		const old = { ...withThreshold, thresholdDate: '2026-09-20' };
		expect(dueTests(old, [checked('2026-11-01'), checked('2026-11-16')], nowMs, 56)).toEqual([
			{ test: 'Threshold run', why: 'The threshold is 9 weeks old.' },
			{ test: 'Recovery check', why: 'The last one was 11 days ago.' }
		]);
	});

	it('are a check on the eighth day, whatever was boxed since', () => {
		const dueAfter = (day: string) =>
			dueTests(withThreshold, [checked(day), boxed('2026-11-27', [40])], nowMs, 56);
		expect(dueAfter('2026-11-20')).toEqual([]);
		expect(dueAfter('2026-11-19')).toEqual([{ test: 'Recovery check', why: 'The last one was 8 days ago.' }]);
	});

	it('are not spoken of while a blow to the head bars them, and are due again from step 4 on', () => {
		const restricted = { ...card, noSparringUntil: '2026-12-05' };
		expect(dueTests(restricted, [], nowMs, 56)).toBeUndefined();
		expect(dueTests({ ...card, blows: [{ ...blow, step: '4', clearance }] }, [], nowMs, 56)).toHaveLength(2);
	});
});

describe('the words on a restriction', () => {
	it('name the step up to which the way is open, and who decides', () => {
		expect(restrictionWords(card, nowMs)).toBeUndefined();
		expect(restrictionWords({ ...card, blows: [blow] }, nowMs)).toMatch(
			/^After a blow to the head\. Open up to step 2A: Light endurance.*A doctor and the local rules decide/
		);
	});

	it('say of a lock without its reason that it came from another laptop', () => {
		const words = restrictionWords({ ...card, locks: [{ day: '2026-11-20', step: '2A' }] }, nowMs);
		expect(words).toMatch(
			/^It was entered on another laptop, and the reason did not come along\. Open up to step 2A: Light endurance/
		);
		expect(words).not.toMatch(/head|blow/);
	});

	it('keep a day without sparring from before in force when it is over, and name it', () => {
		for (const [day, words] of [
			['2026-12-05', 'Sat 5 Dec'],
			['2026-11-28', 'Sat 28 Nov']
		] as const)
			expect(restrictionWords({ ...card, noSparringUntil: day }, nowMs)).toContain(
				`"No sparring until ${words}" was entered, and no day opens a lock. Open up to step 3`
			);
	});
});

describe('the tests of an athlete', () => {
	it('stand kind by kind, newest first, each with its result or the reason why there is none', () => {
		const resting = onDay('2026-11-10', {
			head: makeHead({ id: 'q', startedAt: '2026-11-10T07:00:00.000Z', plan: restingPlan('lying') }),
			summary: summaryOf([], {
				guided: { kind: 'resting', posture: 'lying', restBpm: 51.2, rmssdMs: 62.4, reasons: [] }
			})
		});
		const [runs, quiet, checks] = testsOf([
			ran('2026-09-01', 161.5),
			ran('2026-10-01'),
			resting,
			checked('2026-11-16'),
			boxed('2026-11-17', [50])
		]);
		expect(runs!.rows.map(({ results, reasons }) => [results, reasons])).toEqual([
			[[], ['stopped after 9:10 of 20:00']],
			[['threshold 162', '20-minute mean 170'], []]
		]);
		expect(quiet!.rows[0]!.results).toEqual(['lying 51', 'beat-to-beat change 62 ms']);
		expect(checks!.rows.map(({ results }) => results)).toEqual([['1-minute drop 39', 'recovery speed 61 s']]);
		expect(checks!.drawn.points.map(({ value }) => value)).toEqual([39]);
	});
});

it('a test that was never measured has neither a result nor a reason', () => {
	const { summary: _, ...unmeasured } = ran('2026-09-01');
	expect(testsOf([unmeasured])[0]!.rows).toMatchObject([{ results: [], reasons: [] }]);
});
