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
