import { sampleStandardDeviation } from 'simple-statistics';
import { afterEach, describe, expect, it } from 'vitest';
import type { TrainingDay } from '$lib/record/day';
import { mondayOf, weeklyLoads, weekWords } from '$lib/review/weeks';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

const zone = process.env.TZ;
afterEach(() => {
	if (zone === undefined) delete process.env.TZ;
	else process.env.TZ = zone;
});

// Monday 2 March 2026.
const date = (day: number) => `2026-03-${String(day).padStart(2, '0')}`;
const noon = (day: number) => Date.parse(`${date(day)}T12:00`);
const daysOf = (days: Record<number, TrainingDay>) =>
	new Map(Object.entries(days).map(([day, what]) => [date(Number(day)), what]));
const trained = (minutes: number, effort?: number) => makeDay(makeEntry({ minutes, effort }));

describe('a week worked by hand', () => {
	// Foster et al., J Strength Cond Res 2001;15:109-115: load = rating x minutes, here 5 x 60 = 300, 4 x 90 = 360,
	// 7 x 40 = 280, 6 x 60 = 360, 8 x 30 = 240, two days of rest. Foster, Med Sci Sports Exerc 1998;30:1164-8: week
	// 300 + 360 + 280 + 360 + 240 = 1540, mean 220; squares 6400 + 19600 + 3600 + 19600 + 400 + 48400 + 48400 =
	// 146400, SD (n - 1) sqrt(24400) = 156.2050; sameness 220 / 156.2050 = 1.40841; load x sameness 2168.94.
	const week = daysOf({
		2: trained(60, 5),
		3: trained(90, 4),
		4: trained(40, 7),
		5: restDay,
		6: trained(60, 6),
		7: trained(30, 8),
		8: restDay
	});
	it('gives load, monotony and strain where all seven days are known', () => {
		const [found] = weeklyLoads([], week, noon(9));
		expect(found).toMatchObject({ knownDays: 7, owed: 0, atLeast: 1540, weeklyLoad: 1540 });
		expect(found?.monotony).toBeCloseTo(1.40841, 5);
		expect(found?.strain).toBeCloseTo(2168.94, 2);
		expect(found?.monotony).toBeCloseTo(220 / sampleStandardDeviation([300, 360, 280, 0, 360, 240, 0]), 9);
	});
	it('says of how many days it is the sum where some are unknown, and takes none of them for 0', () => {
		const some = new Map(week);
		for (const day of [4, 5, 8]) some.delete(date(day));
		const [found] = weeklyLoads([], some, noon(9));
		expect(found).toMatchObject({ knownDays: 4, atLeast: 1260 });
		for (const name of ['weeklyLoad', 'monotony', 'strain']) expect(found).not.toHaveProperty(name);
		expect(weekWords(found!)).toBe('4 of 7 days known: at least 1,260.');
	});
	it('is not known whole while an effort is owed', () => {
		const owing = new Map(week).set(date(6), trained(60));
		const [found] = weeklyLoads([], owing, noon(9));
		expect(found).toMatchObject({ knownDays: 6, owed: 1, atLeast: 1180 });
		expect(weekWords(found!)).toBe('6 of 7 days known, one effort owed: at least 1,180.');
	});
	it('adds sessions with a strap to what was entered', () => {
		const session = makeTraining({ startedAt: '2026-03-05T18:00:00', effort: 5 });
		const [found] = weeklyLoads([session], new Map(week), noon(9));
		expect(found?.weeklyLoad).toBe(1840);
	});
	it('is judged by the days that have begun while it runs', () => {
		const [found] = weeklyLoads([], week, noon(4));
		expect(found).toMatchObject({ daysSoFar: 3, knownDays: 3, atLeast: 940 });
		expect(found).not.toHaveProperty('weeklyLoad');
		expect(found?.reason).toBe('This week is not over yet. 3 of 3 days known: 940.');
	});
});

describe('weeks', () => {
	it('run from Monday to Sunday for everybody, whatever day somebody began on', () => {
		const weeks = weeklyLoads([], daysOf({ 5: trained(60, 5), 12: restDay }), noon(16));
		expect(weeks.map(({ fromMs }) => new Date(fromMs).toDateString())).toEqual([
			'Mon Mar 02 2026',
			'Mon Mar 09 2026',
			'Mon Mar 16 2026'
		]);
		expect(mondayOf(new Date(2026, 2, 8, 23, 30))).toEqual(new Date(2026, 2, 2));
		expect(mondayOf(new Date(2026, 2, 9))).toEqual(new Date(2026, 2, 9));
	});
	it('stand against the mean of the four before them where all four are known', () => {
		const days = new Map<string, TrainingDay>();
		for (let day = 0; day < 35; day++) {
			const at = new Date(2026, 1, 2 + day);
			const key = `2026-${String(at.getMonth() + 1).padStart(2, '0')}-${String(at.getDate()).padStart(2, '0')}`;
			// Weeks of one training on their Monday: 100, 200, 300, 400, 500.
			days.set(key, day % 7 === 0 ? trained(10 * (1 + day / 7), 10) : restDay);
		}
		const weeks = weeklyLoads([], days, noon(9));
		expect(weeks.map(({ meanBefore }) => meanBefore)).toEqual([
			undefined,
			undefined,
			undefined,
			undefined,
			250,
			350
		]);
		expect(weekWords(weeks[4]!)).toBe(
			'All 7 days known: 500, against a mean of 250 in the four weeks before.'
		);
		days.delete('2026-02-17');
		expect(weeklyLoads([], days, noon(9))[4]).not.toHaveProperty('meanBefore');
	});
	it('are none where nothing is known, and at most those of ten years', () => {
		expect(weeklyLoads([], new Map(), noon(9))).toEqual([]);
		expect(weeklyLoads([], new Map([['1970-01-01', restDay]]), noon(9))).toHaveLength(520);
	});
	// When the clock goes back an hour in autumn (IANA time zone database).
	it.each([
		['America/New_York', 2026, 10, 1],
		['Europe/Madrid', 2026, 9, 25],
		['Australia/Sydney', 2026, 3, 5]
	])('keep their days where the clock goes back in %s', (place, year, month, sunday) => {
		process.env.TZ = place;
		const at = (days: number, hour: number, minute = 0) =>
			new Date(year, month, sunday + days, hour, minute).toISOString();
		const rated = (startedAt: string, effort: number) => makeTraining({ id: startedAt, startedAt, effort });
		// On the day before, late on that of the change, and early on the Monday after it.
		const trainings = [rated(at(-1, 18), 1), rated(at(0, 23, 30), 2), rated(at(1, 0, 30), 3)];
		const weeks = weeklyLoads(trainings, new Map(), Date.parse(at(8, 12)));
		expect(weeks.map(({ atLeast }) => atLeast)).toEqual([60 * 3, 60 * 3, 0]);
		expect(weeks.map(({ fromMs }) => new Date(fromMs).toISOString())).toEqual([
			at(-6, 0),
			at(1, 0),
			at(8, 0)
		]);
	});
});
