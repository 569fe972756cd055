import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { Bout } from '$lib/record/bout';
import { boutDayOf, campView } from '$lib/review/camp-view';
import { dateOf, dayNumber } from '$lib/review/day-numbers';
import { knownOn, trainingsByDate } from '$lib/review/weeks';
import { recoveryCheckPlan } from '$lib/rounds/guided-plans';
import { makeHead } from '../store/builders';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

const today = '2026-03-10';
const adem: Athlete = {
	id: 'a',
	name: 'Adem',
	sex: 'male',
	heightCm: 180,
	birthYear: 1996,
	dailyActivity: 'on your feet',
	bodyFatPercent: 20,
	measuredFat: { percent: 20, day: '2026-03-01', method: 'skinfolds' }
};
const bout: Bout = { id: 'bout-1', day: '2026-05-05', limitKg: 81, classesKg: [75, 86], place: 'Town hall' };
const facts = {
	weightKg: { [today]: 84 },
	costs: [],
	sessions: [],
	known: knownOn(new Map(), new Map())
};
const viewOf = (card: Partial<Athlete> = {}, changed: Partial<Bout> = {}) =>
	campView({ ...adem, ...card }, { ...bout, ...changed }, facts, 'kg', today);

describe('the camp', () => {
	it('leads with the days to the bout, and says nothing of a reason where the athlete is restricted', () => {
		expect(viewOf().lead).toMatch(/^56 days to the bout on Tue 5 May.*, Town hall\.$/);
		expect(viewOf({}, { day: today }).lead).toBe('The bout is today, Town hall.');
		expect(viewOf({}, { day: '2026-03-11', place: undefined }).lead).toBe('The bout is tomorrow.');
		expect(viewOf({}, { day: '2026-03-12' }).lead).toMatch(/^2 days to the bout on Thu 12 Mar/);
		const since = '2026-03-02T12:00:00.000Z';
		expect(viewOf({ blows: [{ day: '2026-03-01', step: '5', since }] }).restricted).toMatch(/^Restricted/);
		expect(viewOf().restricted).toBeUndefined();
	});

	it('has 3 kg in eight weeks as a plan, week by week, with range', () => {
		const { limitWords, weeks } = viewOf({}, { campFrom: '2026-03-09' });
		expect(limitWords[0]).toMatch(/^The limit of 81.0 kg can be made by Tue 5 May/);
		const first = weeks.find(({ isNow }) => isNow)!.weight;
		expect(first.kg).toBe(84);
		// 10 March is a Tuesday: on the Sunday of its week 5 of 56 days are gone.
		expect(first.planned!.value).toBeCloseTo(84 - (3 * 5) / 56, 8);
		expect(weeks.at(-1)!.weight.planned!.value).toBeCloseTo(81, 8);
		expect(first.planned!.low).toBeLessThan(first.planned!.high);
	});

	it('puts first that the limit cannot be made safely, and then names the next class up that can', () => {
		const { limitWords } = viewOf({}, { limitKg: 75, classesKg: [75, 78, 82, 86] });
		expect(limitWords[0]).toContain('cannot be made safely');
		expect(limitWords[1]).toMatch(/next class up that can: to 8[26]\.0 kg/);
	});

	it('says what can be made, what is the least, and that no class can where that is so', () => {
		const { limit, limitWords } = viewOf({}, { limitKg: 70, classesKg: [75], weighInDay: '2026-05-04' });
		if (limit?.kind !== 'unsafe' || limit.leastKg === undefined) throw new Error(limit?.kind);
		expect(limit.leastKg).toBeGreaterThan(75);
		expect(limitWords).toEqual([
			expect.stringMatching(/^The limit of 70\.0 kg cannot be made safely by Mon 4 May/),
			'No higher class that was entered can be made safely either.',
			`The least that is safe by then is ${limit.leastKg.toFixed(1)} kg.`,
			limit.reason
		]);
	});

	it('asks for a weight where none is known, and takes the one on the card', () => {
		const open = { ...facts, weightKg: {} };
		expect(campView(adem, bout, open, 'kg', today).limitWords).toEqual([
			'Whether 81.0 kg can be made safely is not known.',
			'Log a weight first.'
		]);
		expect(campView({ ...adem, weightKg: 80 }, bout, open, 'kg', today).limitWords).toEqual([
			'Within the limit of 81.0 kg today.'
		]);
	});

	it('says of a weight over every class that none holds it', () => {
		expect(viewOf({ hidesFuel: true }, { classesKg: [75] }).limitWords[0]).toBe(
			'No class that was entered holds today’s weight.'
		);
	});

	it('takes a day for one of sitting where nothing else was said', () => {
		const { dailyActivity: _, ...silent } = adem;
		const of = (card: Athlete) => campView(card, bout, facts, 'kg', today).limit;
		expect(of(silent)).toEqual(of({ ...adem, dailyActivity: 'sitting' }));
		expect(of(silent)).not.toEqual(of(adem));
	});

	it('reckons with the age of a confirmed adult of 18 as with 19, and believes nobody younger', () => {
		expect(viewOf({ birthYear: 2008 }).limit?.kind).toBe('barred');
		expect(viewOf({ birthYear: 2008, isAdult: true }).limit).toEqual(viewOf({ birthYear: 2007 }).limit);
		expect(viewOf({ birthYear: 2009, isAdult: true }).limit?.kind).toBe('barred');
	});

	it('takes the mean of training over the days with a measured session alone', () => {
		const net = { low: 600, value: 700, high: 800 };
		const limitWith = (costs: { date: string; net?: typeof net }[]) =>
			campView(adem, bout, { ...facts, costs }, 'kg', today).limit;
		const oneDay = limitWith([{ date: '2026-03-09', net }]);
		// 700 on each of two days are 700 a day as well, and a day of unknown cost is none of them.
		expect(
			limitWith([
				{ date: '2026-03-07', net },
				{ date: '2026-03-09', net }
			])
		).toEqual(oneDay);
		expect(limitWith([{ date: '2026-03-07' }, { date: '2026-03-09', net }])).toEqual(oneDay);
		expect(oneDay).not.toEqual(limitWith([]));
	});

	it('ticks a test off on the day here on which it was done', () => {
		const head = makeHead({ startedAt: '2026-03-09T12:00:00.000Z', plan: recoveryCheckPlan(30) });
		const begun = { ...bout, campFrom: '2026-03-09' };
		const told = campView(adem, begun, { ...facts, sessions: [{ head, edit: {} }] }, 'kg', today);
		expect(told.weeks[0]!.tests).toEqual([
			{ kind: 'recovery check', doneOn: '2026-03-09' },
			{ kind: 'threshold run' }
		]);
	});

	it('reads the limit on the card where the bout has none', () => {
		const { limitKg: _, ...open } = bout;
		const view = campView({ ...adem, weightLimitKg: 81 }, open, facts, 'kg', today);
		expect(view.limitWords[0]).toContain('81.0 kg can be made');
		expect(campView(adem, open, facts, 'kg', today).limitWords).toEqual([]);
	});

	it('gives the class of today’s weight alone to the young and to whoever wishes no plan', () => {
		for (const card of [{ birthYear: 2010 }, { hidesFuel: true as const }]) {
			const { limitWords, weeks } = viewOf(card);
			expect(limitWords[0]).toBe('Today’s weight is in the class to 86.0 kg.');
			expect(weeks.every(({ weight }) => weight.planned === undefined)).toBe(true);
		}
		expect(viewOf({ hidesFuel: true }).weeks.every(({ weight }) => weight.kg === undefined)).toBe(true);
	});

	it('asks for measured body fat, and for none of it where the weight is within the limit', () => {
		expect(viewOf({ measuredFat: undefined }).limitWords.join(' ')).toContain('measured body fat');
		expect(viewOf({ measuredFat: undefined }, { limitKg: 86 }).limitWords).toEqual([
			'Within the limit of 86.0 kg today.'
		]);
	});

	it('counts what was trained with a strap and without, and leaves other days unknown', () => {
		// Tuesday 10 March: Monday has an hour with a strap and 40 minutes without, Tuesday is a day of rest.
		const days = new Map([
			['2026-03-09', makeDay(makeEntry({ minutes: 40, effort: 5, beside: ['s'] }))],
			[today, restDay]
		]);
		const strapped = makeTraining({ id: 's', startedAt: '2026-03-09T10:00:00.000Z', minutes: 60 });
		const known = knownOn(days, trainingsByDate([{ ...strapped, effort: 6 }]));
		const begun = { ...bout, campFrom: '2026-03-09' };
		const told = campView(adem, begun, { ...facts, known }, 'kg', today);
		const week = told.weeks.find(({ isNow }) => isNow)!;
		expect(week).toMatchObject({ knownDays: 2, minutes: 100 });
		// 5 x 40 and 6 x 60.
		expect(week.load).toMatchObject({ atLeast: 560, knownDays: 2, daysSoFar: 2 });
		expect(told.weeks.at(-1)!.load).toBeUndefined();
	});

	it('has a taper once the last four whole weeks are known, days of rest among them', () => {
		// 56 days before the bout: the four weeks from Monday 9 February to Sunday 8 March.
		const dates = Array.from({ length: 28 }, (_, i) => dateOf(dayNumber('2026-02-09') + i));
		const days = new Map(
			dates.map((date, i) => [date, i % 7 < 5 ? makeDay(makeEntry({ minutes: 60 })) : restDay])
		);
		const taperWith = (some: typeof days) =>
			campView(adem, bout, { ...facts, known: knownOn(some, new Map()) }, 'kg', today).taper;
		expect(taperWith(days)).toMatchObject({ kind: 'planned', usualMinutesAWeek: 300 });
		days.delete('2026-02-14');
		expect(taperWith(days)).toEqual({ kind: 'unknown', days: ['2026-02-14'] });
	});
});

describe('the day of the bout', () => {
	it('has what was typed in the order of the clock', () => {
		const meals = [{ time: '13:00', words: 'Rice' }];
		const told = { ...bout, weighInTime: '08:30', walkTime: '19:40', meals };
		expect(boutDayOf(told).map(({ words }) => words)).toEqual(['Weigh-in', 'Rice', 'Walk to the ring']);
		expect(boutDayOf({ ...told, weighInDay: '2026-05-04' }).map(({ words }) => words)).not.toContain(
			'Weigh-in'
		);
	});

	it('has the hall’s own order for what happens at one time, and nothing that was not typed', () => {
		const meals = [
			{ time: '08:30', words: 'Porridge' },
			{ time: '08:30', words: 'Tea' }
		];
		expect(boutDayOf({ ...bout, weighInTime: '08:30', meals })).toEqual([
			{ time: '08:30', words: 'Weigh-in' },
			{ time: '08:30', words: 'Porridge' },
			{ time: '08:30', words: 'Tea' }
		]);
		expect(boutDayOf(bout)).toEqual([]);
	});
});
