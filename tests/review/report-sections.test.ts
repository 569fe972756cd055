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

/** The lines of a report under the title of their section. */
const linesOf = (reader: (typeof readers)[number], report: ReportedSession) =>
	Object.fromEntries(reportSections(reader, report).map(({ title, lines }) => [title, lines]));
const done = (reader: (typeof readers)[number], report: ReportedSession) =>
	linesOf(reader, report)['What was done'];
const usualOf = (report: ReportedSession) => linesOf('another coach', report)['Against the own usual'];
const limitsOf = (reader: (typeof readers)[number], report: ReportedSession) =>
	linesOf(reader, report)['What it cannot say'];
const nextOf = (reader: (typeof readers)[number], report: ReportedSession) =>
	linesOf(reader, report)['Next step'];

/** The same with other members of its summary. */
const summed = (report: ReportedSession, summary: Partial<ReportedSession['summary']>): ReportedSession => ({
	...report,
	summary: { ...report.summary, ...summary }
});
/** The same with other members of its head. */
const headed = (report: ReportedSession, head: Partial<ReportedSession['head']>): ReportedSession => ({
	...report,
	head: { ...report.head, ...head }
});

describe('what was done, in the words of each reader', () => {
	it('is told of rounds with the drops, the time over the threshold and the highest rate', () => {
		expect(done('the athlete', boxing)).toEqual([
			'You trained: pads, 3 rounds, 9:00 of work.',
			'You called the effort 7 of 10.',
			'In the minute after each round your heart rate fell by 49, 41, 33 beats.',
			'6:42 of 9:00 of work was over your threshold (165).',
			'Highest rate: 189 beats a minute.'
		]);
		expect(done('a parent', boxing)).toEqual([
			'Red trained: pads, 3 rounds, 9:00 of work.',
			'Effort, as the athlete felt it: 7 of 10.',
			'In the minute after each round the heart rate fell by 49, 41, 33 beats.',
			'6:42 of 9:00 of work was above the rate that can be held for long (165).',
			'Highest rate: 189 beats a minute.'
		]);
		expect(done('a doctor', boxing)).toEqual([
			'Red trained: pads, 3 rounds, 9:00 of work.',
			'Effort, as the athlete felt it: 7 of 10.',
			'Heart-rate recovery in the first minute after each round, beats: 49, 41, 33.',
			'6:42 of 9:00 of work was above the threshold heart rate (165).',
			'Highest rate: 189 beats a minute.'
		]);
		expect(done('another coach', boxing)).toEqual([
			'Red trained: pads, 3 rounds, 9:00 of work.',
			'Effort, as the athlete felt it: 7 of 10.',
			'1-minute drops: 49, 41, 33.',
			'6:42 of 9:00 of work was over threshold (165).',
			'Highest rate: 189 beats a minute.'
		]);
	});

	it('is told of a run with both of its readings and what lessens them, or with why there are none', () => {
		const reasons = ['The pace was not raised.'];
		const told = { ...run, run: { ...run.run!, reasons } };
		const figures = '168 beats a minute as the mean of the run, 159 less 5 %.';
		expect(done('the athlete', told)).toEqual([
			'You ran for the threshold: 20:00, with the pace raised step by step.',
			'You called the effort 7 of 10.',
			`Your threshold by this run: ${figures}`,
			...reasons
		]);
		expect(done('a parent', told)![2]).toBe(`The rate that can be held for long: ${figures}`);
		expect(done('a doctor', told)![2]).toBe(
			`Estimate of the threshold heart rate, without gas exchange or lactate: ${figures}`
		);
		expect(done('another coach', told)![2]).toBe(`Threshold by the run: ${figures}`);

		const short = ['The run was shorter than 20 minutes.'];
		const stopped = summed({ ...run, edit: {} }, { guided: { kind: 'threshold run', reasons: short } });
		for (const result of [undefined, { ...run.run!, meanBpm: undefined }, { ...run.run!, bpm: undefined }])
			expect(done('a doctor', { ...stopped, run: result })).toEqual([
				'Red ran for the threshold: 20:00, with the pace raised step by step.',
				...short
			]);
	});

	it('is told of quiet minutes with the posture and the rate, or with why there is none', () => {
		const rested = 'Red rested quietly, lying, and the heart rate was read.';
		expect(done('another coach', resting)).toEqual([rested, 'Resting rate: 52 beats a minute.']);
		expect(done('a doctor', resting)).toEqual([
			rested,
			'Resting heart rate, lowest minute: 52 beats a minute.'
		]);
		const reasons = ['The five quiet minutes are not over.'];
		expect(done('a doctor', summed(resting, { guided: { kind: 'resting', reasons } }))).toEqual([
			rested,
			...reasons
		]);
		const { posture: _, ...plan } = resting.head.plan;
		expect(done('the athlete', headed(resting, { plan }))![0]).toBe(
			'You rested quietly, posture not noted, and the heart rate was read.'
		);
	});

	it('is told of a check with its recovery speed before its drops, where it has one', () => {
		const rounds = '3 rounds, 9:00 of work, then sat or stood still.';
		expect(done('the athlete', check)).toEqual([
			`You did the recovery check, which is the same each time: ${rounds}`,
			'You called the effort 7 of 10.',
			'How fast your heart came down: 41 s. Shorter is faster.',
			'In the minute after each round your heart rate fell by 49, 41, 33 beats.',
			'6:42 of 9:00 of work was over your threshold (165).',
			'Highest rate: 189 beats a minute.'
		]);
		expect(done('a parent', check)![2]).toBe('How fast the heart came down: 41 s. Shorter is faster.');
		expect(done('a doctor', check)![2]).toBe(
			'Time constant of one exponential fitted to the heart-rate recovery: 41 s. Shorter is faster.'
		);
		expect(done('another coach', check)![2]).toBe('Recovery speed: 41 s. Shorter is faster.');
		const without = summed(check, { guided: { kind: 'recovery check', reasons: [] } });
		expect(done('another coach', without)![2]).toBe('1-minute drops: 49, 41, 33.');
	});

	it('says nothing of what is not known, and that no drop could be measured', () => {
		const bare = {
			...summed(boxing, { overS: undefined, peakBpm: undefined, rounds: [makeRound(1, undefined)] }),
			edit: {}
		};
		expect(done('another coach', bare)).toEqual([
			'Red trained: pads, 1 round, 9:00 of work.',
			'No drop could be measured: no rest of a full minute with a clean signal.'
		]);
	});

	it('names how the drops went from round to round, and a rate that rose', () => {
		const fade = { slopeBpm: -8, slopeErrorBpm: 1, restCount: 3, trend: 'fading' as const };
		const rounds = [makeRound(1, 20.4), makeRound(2, undefined), makeRound(3, -3.6)];
		const faded = summed(boxing, { fade, rounds });
		expect(done('a parent', faded)![2]).toBe(
			'In the minute after each round the heart rate fell by 20, none (rose 4) beats. Round by round: fading.'
		);
		expect(done('another coach', faded)![2]).toBe(
			'1-minute drops: 20, none (rose 4). Round by round: fading.'
		);
	});
});

describe('a session against the own usual', () => {
	const range = 'Usual drop: 38, mostly 36 to 42, from 6 like sessions.';

	it('is only headed otherwise for the athlete', () => {
		expect(linesOf('the athlete', boxing)['Against your own usual']).toEqual(usualOf(boxing));
	});

	it('leaves out the drops that were not judged, and rests without one', () => {
		const rounds = [makeRound(1, 49, 'not judged'), makeRound(2, 41), makeRound(3, undefined)];
		expect(usualOf(summed(boxing, { rounds }))).toEqual([`${range} This time: 41 as usual.`]);
		expect(usualOf(summed(boxing, { rounds: [makeRound(1, 49, 'not judged')] }))).toEqual([range]);
		const { rest: _, ...last } = makeRound(2, 33);
		expect(usualOf(summed(boxing, { rounds: [makeRound(1, 33), last] }))).toEqual([
			`${range} This time: 33 less than usual.`
		]);
	});

	it('sets against it only drops of the work that it is of', () => {
		const bag = { ...makeRound(3, 20), activity: 'bag' as const };
		const rounds = [makeRound(1, 41), makeRound(2, 40), bag];
		expect(usualOf(summed(boxing, { rounds }))).toEqual([`${range} This time: 41, 40 as usual.`]);
	});

	it('is not said before there is one', () => {
		const unknown = 'The usual drop is not known yet: it takes five like sessions.';
		expect(usualOf({ ...boxing, usual: undefined })).toEqual([unknown]);
		expect(usualOf({ ...check, usual: undefined })).toEqual([
			'The check before, Fri 20 Feb 2026: 44 s. No clear change.',
			unknown
		]);
	});

	it('is the threshold or the resting rate of before, where that was measured', () => {
		const { thresholdBpm: _, ...athlete } = boxing.head.athlete;
		expect(usualOf(run)).toEqual(['The threshold before this run: 165.']);
		expect(usualOf(headed(run, { athlete }))).toEqual(['No threshold was known before this run.']);
		expect(usualOf(resting)).toEqual(['No resting rate was known before.']);
		expect(usualOf(headed(resting, { athlete: { ...athlete, restBpm: 54.6 } }))).toEqual([
			'The resting rate before: 55.'
		]);
	});
});

describe('what a report cannot say', () => {
	const drops =
		'A single drop is uncertain by about 20 %. It does not say why it is large or small: sleep, heat, illness, drink and a loose strap all count.';

	it('begins with readings that are none of a person, and with what was unusual', () => {
		const unusual = ['The strap was changed.'];
		expect(limitsOf('the athlete', headed(summed(boxing, { unusual }), { practice: true }))).toEqual([
			'These readings are simulated: they say nothing about a person.',
			...unusual,
			drops
		]);
	});

	it('is told a doctor and a parent at more length', () => {
		expect(limitsOf('the athlete', boxing)).toEqual([drops]);
		expect(limitsOf('another coach', boxing)).toEqual([drops]);
		expect(limitsOf('a doctor', boxing)).toEqual([
			drops,
			'Rates are those of a chest strap, smoothed by it. There is no ECG, and rhythm is not judged.'
		]);
		expect(limitsOf('a parent', boxing)).toEqual([
			drops,
			'It is no medical finding, and no mark for effort or talent.'
		]);
	});

	it('is of its kind', () => {
		expect(limitsOf('the athlete', summed(boxing, { overS: undefined }))).toEqual([
			drops,
			'No threshold was known, so nothing is said of time over it.'
		]);
		expect(limitsOf('the athlete', check)).toEqual([drops]);
		expect(limitsOf('the athlete', resting)).toEqual([
			'Short sleep, illness, heat, coffee, alcohol and the training of the day before all move a resting rate.'
		]);
		const [low, ...others] = limitsOf('the athlete', { ...run, run: { ...run.run!, riseBpm: 11.7 } })!;
		expect(low).toMatch(/^A run with rising pace reads low, because its easy early minutes count\./);
		expect(low).toMatch(/ In this run the last five minutes lay 12 beats above the first five\.$/);
		expect(others).toEqual([]);
		expect(limitsOf('the athlete', { ...run, run: undefined })).toEqual([
			expect.stringMatching(/^A run with rising pace reads low, (?!.*In this run)/)
		]);
	});
});

describe('a restriction on a report', () => {
	const restrictions = (restriction: ReportedSession['restriction']) =>
		linesOf('a parent', { ...boxing, restriction }).Restrictions;

	it('is none, or lasts at least until its day, or has no day that ends it', () => {
		expect(restrictions(undefined)).toEqual(['None noted.']);
		expect(restrictions({ atLeastUntil: '2026-03-20' })).toEqual([
			'Restricted, at least until Fri 20 Mar 2026.'
		]);
		expect(restrictions({})).toEqual(['Restricted, and no day ends it.']);
	});
});

describe('the next step of a report', () => {
	const again = 'Repeat the session in like conditions and compare.';
	const find = 'Find the threshold with a threshold run, so that hard and easy work can be told apart.';
	const fewer =
		'Every drop that could be compared was less than usual: ask about sleep, heat and illness before the next hard session.';
	const step = (report: ReportedSession) => nextOf('another coach', report)![0];
	const rounds = (...drops: (number | undefined)[]) => drops.map((drop, i) => makeRound(i + 1, drop));

	it('sends a parent to the coach, and puts medical advice before this page', () => {
		expect(nextOf('the athlete', boxing)).toEqual([again]);
		expect(nextOf('another coach', boxing)).toEqual([again]);
		expect(nextOf('a parent', boxing)).toEqual([again, 'Talk with the coach before anything is changed.']);
		expect(nextOf('a doctor', boxing)).toEqual([again, 'Medical advice on training comes before this page.']);
	});

	it('is of its kind for a measurement', () => {
		expect(step(run)).toBe(
			'Keep one of the two readings as the threshold, and repeat the run when the training has changed.'
		);
		expect(step(resting)).toBe(
			'Measure on other mornings in the same posture, and go by the mean of a week.'
		);
		expect(step(check)).toBe('Repeat the check in the same way, at the same time of day.');
	});

	it('is the strap where no drop was measured, before all else', () => {
		expect(step(summed(check, { rounds: rounds(undefined) }))).toBe(
			'Wet the strap, seat it firmly and measure a full minute of rest.'
		);
	});

	it('asks about sleep where every judged drop of the chief work was less, and of no others', () => {
		const [low, other] = [rounds(30, 31), { ...makeRound(3, 41), activity: 'bag' as const }];
		expect(step(summed(boxing, { rounds: low }))).toBe(fewer);
		expect(step(summed(boxing, { rounds: [...low, other] }))).toBe(fewer);
		expect(step(summed(boxing, { rounds: [...low, makeRound(4, 41)] }))).not.toBe(fewer);
		// Under medicine that slows the heart no drop is judged, and none says anything.
		const unjudged = low.map(({ round, rest }) => makeRound(round, rest!.drop60, 'not judged'));
		expect(step(summed(boxing, { rounds: unjudged }))).toBe(again);
	});

	it('is longer rests where the drops became smaller from round to round', () => {
		const fade = { slopeBpm: -8, slopeErrorBpm: 1, restCount: 3 };
		expect(step(summed(check, { fade: { ...fade, trend: 'fading' } }))).toBe(
			'The drops became smaller from round to round: think about longer rests or easier rounds before more work is added.'
		);
		expect(step(summed(boxing, { fade: { ...fade, trend: 'no clear change' } }))).toBe(again);
	});

	it('is to ask why where every drop was less than usual, and not where one was', () => {
		expect(step(summed(check, { rounds: rounds(33, 35, undefined) }))).toBe(fewer);
		expect(step(summed(boxing, { rounds: rounds(33, 36, 35) }))).toBe(again);
		expect(step({ ...summed(boxing, { rounds: rounds(33, 35) }), usual: undefined })).toBe(again);
	});

	it('is to find the threshold of a person who has none', () => {
		const { thresholdBpm: _, ...athlete } = boxing.head.athlete;
		const none = headed(summed(boxing, { overS: undefined }), { athlete });
		expect(step(none)).toBe(find);
		expect(step(summed(none, { overS: 0 }))).toBe(again);
		expect(step(headed(none, { athlete: boxing.head.athlete }))).toBe(again);
		expect(step(headed(none, { practice: true }))).toBe(again);
	});
});

describe('the figures of a report', () => {
	it('stand over what each of them is of', () => {
		expect(reportFigures(check)).toEqual([
			{ name: 'Recovery speed', value: '41 s', more: 'shorter is faster' },
			{ name: '1-minute drop', value: '41', more: 'beats, mean of 3 judged rests' },
			{ name: 'Over threshold', value: '6:42', more: 'of 9:00; threshold 165' },
			{ name: 'Peak', value: '189', more: 'beats a minute' },
			{ name: 'Effort', value: '7', more: 'of 10' }
		]);
		expect(reportFigures(run)).toEqual([
			{ name: 'Mean of the 20 minutes', value: '168', more: 'beats a minute' },
			{ name: 'That mean less 5 %', value: '159', more: 'beats a minute' },
			{ name: 'Confidence', value: 'fair', more: '' },
			{ name: 'Effort', value: '7', more: 'of 10' }
		]);
		const quiet = { kind: 'resting' as const, restBpm: 52.3, rmssdMs: 61.7, reasons: [] };
		expect(reportFigures(summed(resting, { guided: { ...quiet, posture: 'lying' } }))).toEqual([
			{ name: 'Resting rate', value: '52', more: 'lowest minute, lying' },
			{ name: 'Beat-to-beat change', value: '62', more: 'ms' }
		]);
		expect(reportFigures(summed(resting, { guided: quiet }))[0]!.more).toBe('lowest minute, posture unknown');
	});

	it('are none where nothing was measured and nothing said', () => {
		expect(reportFigures({ ...boxing, edit: {}, summary: makeSummary() })).toEqual([]);
		expect(reportFigures({ ...run, edit: {}, run: undefined })).toEqual([]);
		const nothing = makeSummary({ guided: { kind: 'resting', reasons: [] } });
		expect(reportFigures({ ...resting, summary: nothing })).toEqual([]);
	});
	it.each([
		[boxing, ['1-minute drop 41', 'Over threshold 6:42', 'Peak 189', 'Effort 7']],
		[run, ['Mean of the 20 minutes 168', 'That mean less 5 % 159', 'Confidence fair', 'Effort 7']],
		[resting, ['Resting rate 52']],
		[check, ['Recovery speed 41 s', '1-minute drop 41', 'Over threshold 6:42', 'Peak 189', 'Effort 7']]
	])('are those of its kind, and none that is not known', (report, figures) => {
		expect(reportFigures(report).map(({ name, value }) => `${name} ${value}`)).toEqual(figures);
	});
});
