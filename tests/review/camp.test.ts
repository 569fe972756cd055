import { describe, expect, it } from 'vitest';
import type { Bout } from '$lib/record/bout';
import { campWeeks, proposedPhase, taperOf, type MinutesByDay } from '$lib/review/camp';

// Saturday 9 May 2026. Eight weeks: Mondays from 16 March to 4 May.
const bout: Bout = { id: 'bout-1', day: '2026-05-09' };
const mondays = [
	'2026-03-16',
	'2026-03-23',
	'2026-03-30',
	'2026-04-06',
	'2026-04-13',
	'2026-04-20',
	'2026-04-27',
	'2026-05-04'
];

/** Every day from one to another, the second included. */
function days(from: string, to: string): string[] {
	const list: string[] = [];
	for (let ms = Date.parse(from); ms <= Date.parse(to); ms += 86_400_000)
		list.push(new Date(ms).toISOString().slice(0, 10));
	return list;
}

describe('the weeks of a camp', () => {
	const weeksAt = (today: string) => campWeeks(bout, {}, [], today);
	const weeksOf = () => weeksAt('2026-03-18');

	it('count down, Monday to Sunday, to the week of the bout', () => {
		const weeks = weeksOf();
		expect(weeks.map(({ monday }) => monday)).toEqual(mondays);
		expect(weeks.map(({ weeksToGo }) => weeksToGo)).toEqual([7, 6, 5, 4, 3, 2, 1, 0]);
		expect(weeks.filter(({ isNow }) => isNow).map(({ monday }) => monday)).toEqual(['2026-03-16']);
	});

	it('have a recovery check each, and a threshold run in the first and in the last but two', () => {
		const weeks = weeksOf();
		expect(weeks.every(({ tests }) => tests[0]!.kind === 'recovery check')).toBe(true);
		const runs = weeks.filter(({ tests }) => tests.some(({ kind }) => kind === 'threshold run'));
		expect(runs.map(({ monday }) => monday)).toEqual(['2026-03-16', '2026-04-20']);
	});

	it('propose a phase by the weeks that are left, the longest first (own rule)', () => {
		expect([12, 9, 8, 7, 6, 5, 3, 2, 0].map(proposedPhase)).toEqual([
			...['general', 'general', 'general'],
			...['special preparation', 'special preparation'],
			...['early camp', 'early camp'],
			...['late camp', 'late camp']
		]);
	});

	it('are now from their Monday to their Sunday', () => {
		const nowAt = (today: string) => weeksAt(today).flatMap(({ monday, isNow }) => (isNow ? monday : []));
		expect(nowAt('2026-03-15')).toEqual([]);
		expect(nowAt('2026-03-22')).toEqual(['2026-03-16']);
		expect(nowAt('2026-03-23')).toEqual(['2026-03-23']);
		expect(nowAt('2026-05-10')).toEqual(['2026-05-04']);
		expect(nowAt('2026-05-11')).toEqual([]);
	});

	it('propose phases, and take those that were moved', () => {
		expect(weeksOf().map(({ phase }) => phase)).toEqual([
			...Array.from({ length: 2 }, () => 'special preparation'),
			...Array.from({ length: 3 }, () => 'early camp'),
			...Array.from({ length: 3 }, () => 'late camp')
		]);
		const moved = campWeeks({ ...bout, phases: { '2026-03-23': 'early camp' } }, {}, [], '2026-03-18');
		expect(moved[1]).toMatchObject({ phase: 'early camp', isMoved: true });
		expect(moved[0]!.isMoved).toBe(false);
	});

	it('say which tests were done, and of how many known days their minutes are', () => {
		const minutes = { '2026-03-16': 60, '2026-03-17': 0, '2026-03-18': 45, '2026-03-19': 90 };
		const done = [
			{ date: '2026-03-17', kind: 'recovery check' as const },
			{ date: '2026-03-25', kind: 'threshold run' as const },
			{ date: '2026-03-17', kind: undefined }
		];
		const [first] = campWeeks(bout, minutes, done, '2026-03-18');
		// The day that has not come is none of them.
		expect(first).toMatchObject({ knownDays: 3, minutes: 105 });
		expect(first!.tests).toEqual([
			{ kind: 'recovery check', doneOn: '2026-03-17' },
			{ kind: 'threshold run' }
		]);
	});

	it('show the taper from the week in which its fortnight begins', () => {
		const taperWeeks = (day: string) =>
			campWeeks({ ...bout, day }, {}, [], '2026-03-18').flatMap(({ monday, isTaper }) =>
				isTaper ? monday : []
			);
		// 14 days before 9 May are 25 April to 8 May.
		expect(taperWeeks('2026-05-09')).toEqual(mondays.slice(5));
		// Of a bout on a Monday they are two whole weeks, of one on a Sunday they begin on a Sunday.
		expect(taperWeeks('2026-05-04')).toEqual(mondays.slice(5));
		expect(taperWeeks('2026-05-10')).toEqual(mondays.slice(5));
		expect(taperWeeks('2026-05-11')).toEqual([...mondays.slice(6), '2026-05-11']);
	});

	it('begin where somebody says, and a short camp has one threshold run or none', () => {
		const runsFrom = (campFrom: string) =>
			campWeeks({ ...bout, campFrom }, {}, [], '2026-03-18').flatMap(({ monday, tests }) =>
				tests.some(({ kind }) => kind === 'threshold run') ? monday : []
			);
		expect(runsFrom('2026-04-09')).toEqual(['2026-04-06', '2026-04-20']);
		expect(runsFrom('2026-04-21')).toEqual(['2026-04-20']);
		expect(runsFrom('2026-05-01')).toEqual([]);
	});
});

describe('the taper', () => {
	// Four weeks of 400, 420, 380 and 400 minutes: five trainings and two days of rest each.
	const week = (total: number) => [total / 5, 0, total / 5, total / 5, 0, total / 5, total / 5];
	const known: MinutesByDay = Object.fromEntries(
		[400, 420, 380, 400].flatMap(week).map((minutes, i) => [days('2026-03-23', '2026-04-19')[i]!, minutes])
	);

	it('by hand: 400 minutes a week keep 298 and 174 at 41 % less, 320 together at 60 % less', () => {
		// 0.9262 a day: 0.9262 (1 - 0.9262^7) / (1 - 0.9262) = 5.213 days' worth, times 400 / 7 = 297.9; 472 in all.
		const taper = taperOf(bout, known, '2026-04-22');
		if (taper.kind !== 'planned') throw new Error(taper.days.join());
		expect(taper.usualMinutesAWeek).toBe(400);
		expect(taper.days.map(({ date }) => date)).toEqual(days('2026-04-25', '2026-05-08'));
		const sum = (from: number, to: number, end: 'leastMinutes' | 'mostMinutes') =>
			taper.days.slice(from, to).reduce((total, day) => total + day[end], 0);
		expect(sum(0, 7, 'mostMinutes')).toBeCloseTo(297.9, 0);
		expect(sum(7, 14, 'mostMinutes')).toBeCloseTo(174.1, 0);
		expect(sum(0, 14, 'mostMinutes')).toBeCloseTo(0.59 * 800, 6);
		expect(sum(0, 14, 'leastMinutes')).toBeCloseTo(0.4 * 800, 6);
	});

	it('stands on the weeks before it, however late it is looked at', () => {
		expect(taperOf(bout, known, '2026-05-05')).toEqual(taperOf(bout, known, '2026-04-24'));
	});

	it('has no figure where a day is unknown, and names the days to fill', () => {
		const { '2026-03-25': _, '2026-04-19': __, ...some } = known;
		expect(taperOf(bout, some, '2026-04-22')).toEqual({
			kind: 'unknown',
			days: ['2026-03-25', '2026-04-19']
		});
		// A day of rest is known.
		expect(taperOf(bout, { ...some, '2026-03-25': 0, '2026-04-19': 0 }, '2026-04-22').kind).toBe('planned');
	});
});
