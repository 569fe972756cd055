import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { TrainingDay } from '$lib/record/day';
import { boardRows, reasonWords } from '$lib/review/board';
import { squadWeek } from '$lib/review/squad-week';
import type { KeptTraining } from '$lib/review/training';
import { mondayOf } from '$lib/review/weeks';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

// A Wednesday.
const now = new Date('2026-03-11T20:00');
const athlete = (id: string, more: Partial<Athlete> = {}): Athlete => ({ id, name: id, ...more });
const yesterday = new Map([['2026-03-10', restDay]]);
function board(
	athletes: Athlete[],
	days: Record<string, ReadonlyMap<string, TrainingDay>> = {},
	trainings: KeptTraining[] = [],
	goals: Record<string, string> = {}
) {
	return boardRows(athletes, {
		days: new Map(Object.entries(days).map(([id, own]) => [id, { days: own }])),
		trainings,
		goals: new Map(Object.entries(goals)),
		nowMs: now.getTime()
	});
}
const reasonsOf = (rows: ReturnType<typeof board>) =>
	rows.map((row) => [row.name, row.reasons.map((reason) => reasonWords(row, reason))]);

describe('the board', () => {
	it('is ordered by the reason to look, then by name', () => {
		const rows = board(
			[
				athlete('Zora'),
				athlete('Ada'),
				athlete('Over', { weightLimitKg: 60, weights: [{ date: '2026-03-09', kg: 62.34 }] }),
				athlete('Bout'),
				athlete('Owes'),
				athlete('Gone'),
				athlete('Hurt', { noSparringUntil: '2026-03-20' })
			],
			{
				...Object.fromEntries(['Zora', 'Ada', 'Over', 'Bout', 'Hurt'].map((id) => [id, yesterday])),
				Owes: new Map([['2026-03-10', makeDay(makeEntry({ effort: undefined }))]]),
				Gone: new Map([['2026-03-01', restDay]])
			},
			[],
			{ Bout: '2026-03-21' }
		);
		expect(reasonsOf(rows)).toEqual([
			['Hurt', ['restricted']],
			['Gone', [expect.stringMatching(/^nothing known since Sun 1 Mar/)]],
			['Owes', ['effort owed']],
			['Over', ['2.3 kg over the limit']],
			['Bout', ['weigh-in in 10 days']],
			['Ada', []],
			['Zora', []]
		]);
	});
	it('says of a restriction only that there is one', () => {
		const [row] = board([
			athlete('Hurt', { noSparringUntil: '2026-03-20', notes: 'concussion', pregnant: true })
		]);
		expect(JSON.stringify(row)).not.toMatch(/concussion|pregnan|2026-03-20|blow|medicine/i);
		expect(reasonWords(row!, 'restricted')).toBe('restricted');
	});
	it('shows no kilos of whoever wants none or could be harmed by them', () => {
		const over = { weightLimitKg: 60, weightKg: 65 } as const;
		const rows = board([
			athlete('a', { ...over, hidesFuel: true }),
			athlete('b', { ...over, eatingDisorderHistory: true }),
			athlete('c', over)
		]);
		expect(rows.map(({ name, weight }) => [name, weight?.overKg])).toEqual([
			['a', undefined],
			['b', undefined],
			['c', 5]
		]);
	});
	it('says what is usual only from five like sessions before the newest, by their own middle and spread', () => {
		const sessions = (count: number, activity = 'pads') =>
			Array.from({ length: count }, (_, i) =>
				makeTraining({
					id: `${activity}${i}`,
					athleteId: 'a',
					activity,
					startedAt: `2026-02-${String(10 + i)}T18:00:00.000Z`,
					drops: [40 + i]
				})
			);
		const newest = makeTraining({
			id: 'new',
			athleteId: 'a',
			startedAt: '2026-03-10T18:00:00.000Z',
			drops: [30]
		});
		const dropWith = (before: KeptTraining[]) =>
			board([athlete('a')], {}, [...before, newest])[0]?.drop?.words;
		expect(dropWith(sessions(4))).toBe('30, usual not known yet');
		expect(dropWith(sessions(6, 'bag'))).toBe('30, usual not known yet');
		// 40 to 44: a tenth and nine tenths by straight lines are 40.4 and 43.6.
		expect(dropWith(sessions(5))).toBe('30, less than usual (40 to 44)');
		expect(board([athlete('a')])[0]).not.toHaveProperty('drop');
	});
	it('counts an effort as owed for four weeks, by its oldest day', () => {
		const owing = makeDay(makeEntry({ effort: undefined }));
		const days = new Map([
			['2026-02-01', owing],
			['2026-03-02', owing],
			['2026-03-09', owing]
		]);
		expect(board([athlete('a')], { a: days })[0]).toMatchObject({ owedCount: 2, owedDate: '2026-03-02' });
	});
	it('says since when nothing is known, from a week on (own rule), and heeds no day to come', () => {
		const saysOf = (...dates: string[]) =>
			reasonsOf(board([athlete('a')], { a: new Map(dates.map((date) => [date, restDay])) }))[0]![1];
		expect(saysOf()).toEqual(['nothing known yet']);
		expect(saysOf('2026-03-05')).toEqual([]);
		expect(saysOf('2026-03-04', '2026-03-12')).toEqual([
			expect.stringMatching(/^nothing known since Wed 4 Mar/)
		]);
	});
	it('tells the newest day of which anything is known', () => {
		const days = new Map([
			['2026-03-09', makeDay(makeEntry())],
			['2026-03-10', restDay],
			['2026-03-11', { entries: [] }]
		]);
		expect(board([athlete('a')], { a: days })[0]!.last).toEqual({ date: '2026-03-10', words: 'rest' });
		expect(board([athlete('a')])[0]).not.toHaveProperty('last');
	});
	it('asks for an effort of the last 28 days, and counts several', () => {
		const owing = makeDay(makeEntry({ effort: undefined }));
		const owed = (...dates: string[]) =>
			board([athlete('a')], {
				a: new Map([...dates.map((date) => [date, owing] as const), ...yesterday])
			})[0]!;
		// 28 days that end with 11 March begin on 12 February.
		expect(owed('2026-02-11')).toMatchObject({ owedCount: 0, reasons: [] });
		expect(owed('2026-02-11')).not.toHaveProperty('owedDate');
		expect(owed('2026-02-12')).toMatchObject({ owedCount: 1, owedDate: '2026-02-12' });
		expect(reasonWords(owed('2026-02-12', '2026-03-01'), 'effort owed')).toBe('2 efforts owed');
	});
	it('has a weigh-in from the bout that comes next, else from the goal, and none that is over', () => {
		const bout = { id: 'b', day: '2026-03-14' };
		const weighIn = (more: Partial<Athlete>, goal?: string) =>
			board([athlete('a', more)], { a: yesterday }, [], goal ? { a: goal } : {})[0]!;
		expect(weighIn({ bouts: [bout] }, '2026-03-20').weighIn).toEqual({ date: '2026-03-14', inDays: 3 });
		const early = { ...bout, weighInDay: '2026-03-11' };
		expect(weighIn({ bouts: [early] }, '2026-03-20').weighIn).toEqual({ date: '2026-03-11', inDays: 0 });
		expect(reasonWords(weighIn({ bouts: [early] }), 'weigh-in near')).toBe('weigh-in today');
		// Weighed in already: what comes next is the goal.
		const done = { ...bout, weighInDay: '2026-03-10' };
		expect(weighIn({ bouts: [done] }, '2026-03-20').weighIn).toEqual({ date: '2026-03-20', inDays: 9 });
		for (const row of [weighIn({ bouts: [done] }), weighIn({}, '2026-03-10'), weighIn({})]) {
			expect(row).not.toHaveProperty('weighIn');
			expect(row.reasons).toEqual([]);
		}
	});
	it('takes a weigh-in for near from 14 days on (own rule)', () => {
		const reasons = (goal: string) => board([athlete('a')], { a: yesterday }, [], { a: goal })[0]!.reasons;
		expect(reasons('2026-03-25')).toEqual(['weigh-in near']);
		expect(reasons('2026-03-26')).toEqual([]);
	});
	it('has the kilos over a limit by the newest weighing, else by the card', () => {
		const weight = (more: Partial<Athlete>) => board([athlete('a', more)], { a: yesterday })[0]!;
		const weights = [
			{ date: '2026-03-01', kg: 70 },
			{ date: '2026-03-09', kg: 61.5 }
		];
		expect(weight({ weightLimitKg: 60, weightKg: 80, weights }).weight).toEqual({
			overKg: 1.5,
			date: '2026-03-09'
		});
		const within = weight({ weightLimitKg: 64, weights });
		expect(within).toMatchObject({ weight: { overKg: 0 }, reasons: [] });
		expect(weight({ weightLimitKg: 64 })).not.toHaveProperty('weight');
		expect(weight({ weights })).not.toHaveProperty('weight');
	});
	it('gives the reasons of one athlete the most pressing first', () => {
		const row = board(
			[athlete('a', { noSparringUntil: '2026-03-20', weightLimitKg: 60, weightKg: 61 })],
			{ a: new Map([['2026-03-01', makeDay(makeEntry({ effort: undefined }))]]) },
			[],
			{ a: '2026-03-12' }
		)[0]!;
		expect(row.reasons).toEqual([
			'restricted',
			'nothing known',
			'effort owed',
			'over the limit',
			'weigh-in near'
		]);
	});
	it('compares a drop with sessions of the same kind and posture alone', () => {
		const drops = (day: number, drop: number, more: Partial<KeptTraining> = {}) =>
			makeTraining({
				id: `${day}`,
				athleteId: 'a',
				startedAt: `2026-02-${String(day).padStart(2, '0')}T18:00:00.000Z`,
				drops: [drop],
				...more
			});
		const like = [1, 2, 3, 4, 5].map((day) => drops(day, 40));
		const words = (before: KeptTraining[], newest: KeptTraining) =>
			board([athlete('a')], {}, [...before, newest])[0]!.drop;
		// The mean of 50 and 61 is 55.5: 56 in whole beats.
		expect(words(like, drops(20, 0, { drops: [50, 61] }))).toEqual({
			sessionId: '20',
			words: '56, more than usual (40 to 40)'
		});
		const others = [{ posture: 'lying' }, { planKind: 'recovery check' }] as const;
		for (const other of others)
			expect(words(like, drops(20, 50, other))?.words).toBe('50, usual not known yet');
		expect(words(like, drops(20, 0, { drops: [] }))?.sessionId).toBe('5');
	});
	it('leaves no seat empty and lists nobody by what was measured', () => {
		const drops = (athleteId: string, drop: number) =>
			makeTraining({
				id: athleteId,
				athleteId,
				startedAt: '2026-03-10T18:00:00.000Z',
				effort: 5,
				drops: [drop]
			});
		const rows = board([athlete('b'), athlete('a')], {}, [drops('b', 60), drops('a', 10)]);
		expect(rows.map(({ name }) => name)).toEqual(['a', 'b']);
	});
});

describe('the week of a squad', () => {
	it('has a cell a day that has begun: a load, rest, or unknown', () => {
		const days = new Map([
			['2026-03-09', makeDay(makeEntry({ minutes: 50, effort: 6 }))],
			['2026-03-10', restDay]
		]);
		const [row] = squadWeek(
			[{ id: 'a', name: 'A' }],
			new Map([['a', { days }]]),
			[],
			mondayOf(now),
			now.getTime()
		);
		expect(row?.days.map(({ words }) => words)).toEqual(['300', 'rest', 'unknown']);
		expect(row?.week).toMatchObject({ knownDays: 2, atLeast: 300 });
	});
	it('says where an effort is owed', () => {
		const days = new Map([
			['2026-03-09', makeDay(makeEntry({ effort: undefined }))],
			[
				'2026-03-10',
				makeDay(makeEntry({ effort: undefined }), makeEntry({ id: 'b', effort: 5, beside: ['e1'] }))
			]
		]);
		const [row] = squadWeek(
			[{ id: 'a', name: 'A' }],
			new Map([['a', { days }]]),
			[],
			mondayOf(now),
			now.getTime()
		);
		expect(row?.days.map(({ words }) => words)).toEqual(['effort owed', '300, effort owed', 'unknown']);
	});
});

it('the week of somebody of whom nothing was entered is unknown, day by day', () => {
	const [row] = squadWeek([{ id: 'a', name: 'A' }], new Map(), [], mondayOf(now), now.getTime());
	expect(row?.days.map(({ date, words }) => [date, words])).toEqual([
		['2026-03-09', 'unknown'],
		['2026-03-10', 'unknown'],
		['2026-03-11', 'unknown']
	]);
});
