import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import type { TrainingDay } from '$lib/record/day';
import { dayOf } from '$lib/record/athlete-changes';
import { uncostedOf } from '$lib/review/complete-days';
import { youthNeedOf } from '$lib/physiology/youth-energy';
import { dateOf, dayNumber } from '$lib/review/day-numbers';
import { currentKg, dayCostsOf, fatFacts, fuelOf, meanExercise, type DayCost } from '$lib/review/fuel';
import { fromKg, toKcal, toKg } from '$lib/review/units';
import { recordVersion } from '$lib/record/check';
import { sessionNetKcal } from '$lib/review/session-energy';
import { athlete, makeStart } from '../session/builders';
import { makeDay, makeEntry, makeTraining } from './training-days';

const man = {
	id: 'a',
	name: 'Adem',
	sex: 'male',
	heightCm: 180,
	birthYear: 1996,
	bodyFatPercent: 20,
	entersAllTraining: true,
	entersAllFood: true,
	measuredFat: { percent: 20, day: '2026-03-01', method: 'skinfolds' }
} as const;
const days = new Map<string, TrainingDay>();
const today = '2026-03-10';

describe('units', () => {
	it('change nothing but the display', () => {
		fc.assert(
			fc.property(
				fc.constantFrom('kg' as const, 'lb' as const, 'st' as const, undefined),
				fc.constantFrom('kcal' as const, 'kJ' as const, undefined),
				fc.integer({ min: 62, max: 110 }),
				fc.option(fc.integer({ min: 500, max: 5000 }), { nil: undefined }),
				(weightUnit, energyUnit, kg, eaten) => {
					const intakeKcal: Record<string, number> = eaten === undefined ? {} : { [today]: eaten };
					const log = {
						weightKg: { [today]: kg },
						intakeKcal,
						days,
						goal: { kg: kg - 2, date: '2026-07-10' }
					};
					const view = fuelOf({ ...man, weightUnit, energyUnit }, log, [], today);
					expect(view).toEqual(fuelOf(man, log, [], today));
				}
			)
		);
	});
	it('come back as they went in', () => {
		for (const unit of ['kg', 'lb', 'st'] as const)
			expect(fromKg(toKg(70.3, unit), unit)).toBeCloseTo(70.3, 10);
		expect(toKcal(4184, 'kJ')).toBeCloseTo(1000, 10);
	});
});

describe('a kept session', () => {
	it('costs what it adds to the day, by hand for ten minutes at 150', () => {
		const readings = Array.from({ length: 601 }, (_, i) => ({
			ms: i * 1000,
			bpm: 150,
			contact: 'contact' as const,
			rrMs: []
		}));
		const { startedAt, zone, plan } = makeStart();
		const head = {
			...{
				version: recordVersion as typeof recordVersion,
				id: 'r',
				groupId: 'g',
				startedAt,
				zone,
				plan,
				endedMs: 600_000
			},
			...{ amendments: [], events: [], practice: false, strapName: 'Strap', athlete }
		};
		const facts = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30, bodyFatPercent: 20 } as const;
		const net = sessionNetKcal({ head, body: packReadings(readings) }, 'sitting', facts).value!;
		const logged = dayCostsOf([{ head, body: packReadings(readings) }], man, { '2026-03-01': 75 }, today);
		// A weight from the log serves where the record has none; 30 years as above.
		expect(logged.costs).toEqual([{ date: dayOf(new Date(startedAt)), net }]);
		expect(dayCostsOf([{ head, body: packReadings(readings) }], man, {}, today).unknown[0]).toContain(
			'body mass'
		);
		// Keytel 60.4991 kJ/min x 10 min / 4.184, on the pads times 0.8, 1.05 and 1.3; less the rest of ten minutes, 60
		// kg without fat (ten Haaf & Weijs), times 1.5, 1.4, 1.3.
		const gross = 604.991 / 4.184;
		const resting = (22.771 * 60 + 484.264) / 144;
		expect(net.low).toBeCloseTo(0.8 * gross - resting * 1.5, 1);
		expect(net.value).toBeCloseTo(1.05 * gross - resting * 1.4, 1);
		expect(net.high).toBeCloseTo(1.3 * gross - resting * 1.3, 1);
	});
});

describe('the day', () => {
	it('leaves what was not logged unknown', () => {
		const view = fuelOf(
			man,
			{ weightKg: { [today]: 84 }, intakeKcal: { '2026-03-09': 2600 }, days },
			[],
			today
		);
		expect(view.days.filter(({ availability }) => availability).map(({ date }) => date)).toEqual([
			'2026-03-09'
		]);
		expect(fuelOf(man, { weightKg: {}, intakeKcal: {}, days }, [], today).budgetReason).toContain(
			'Log a weight'
		);
	});
	it('leaves every day without a logged intake unknown, and every other one known', () => {
		const dates = Array.from({ length: 7 }, (_, i) => `2026-03-0${4 + i}`.replace('010', '10'));
		fc.assert(
			fc.property(
				fc.array(fc.option(fc.integer({ min: 0, max: 6000 }), { nil: undefined }), {
					minLength: 7,
					maxLength: 7
				}),
				(eaten) => {
					const intakeKcal = Object.fromEntries(
						dates.flatMap((date, i) => (eaten[i] === undefined ? [] : [[date, eaten[i]]]))
					);
					const { days: shown, underFloorDays } = fuelOf(
						man,
						{ weightKg: { [today]: 84 }, intakeKcal, days },
						[],
						today
					);
					expect(shown.map(({ date }) => date)).toEqual(dates);
					expect(shown.map(({ availability }) => availability !== undefined)).toEqual(
						eaten.map((kcal) => kcal !== undefined)
					);
					expect(underFloorDays).toBeLessThanOrEqual(Object.keys(intakeKcal).length);
				}
			)
		);
	});
	it('is unknown where the cost of one of its sessions is', () => {
		const log = {
			weightKg: { [today]: 84 },
			intakeKcal: { [today]: 3000 },
			days,
			goal: { kg: 83, date: '2026-07-10' }
		};
		const net = { low: 300, value: 400, high: 500 };
		const feet = { ...man, dailyActivity: 'on your feet' } as const;
		const view = fuelOf(feet, log, [{ date: today, net }, { date: today }], today);
		expect(view.days.at(-1)?.availability).toBeUndefined();
		expect(view.eatBack?.reason).toContain('unknown');
		expect(view.planned).toBeUndefined();
		expect(view.path).toBeDefined();
		expect(fuelOf(feet, log, [{ date: today, net }], today)).toMatchObject({
			eatBack: { value: { low: 300, value: 500, high: 500 } },
			planned: { value: expect.any(Number) }
		});
	});
	it('names what is missing of a day, the cost of training first', () => {
		const { entersAllTraining: _, entersAllFood: __, ...silent } = man;
		const log = { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2600 }, days };
		const reasonOf = (who: typeof silent, more: Partial<typeof log> = {}, costs: DayCost[] = []) =>
			fuelOf(who, { ...log, ...more }, costs, today).days.at(-1)!.reason;
		expect(reasonOf(silent, {}, [{ date: today }])).toBe('the cost of a training is unknown');
		expect(reasonOf(silent)).toBe('nobody said that was all training');
		expect(reasonOf({ ...silent, ...{ entersAllTraining: true } })).toBe('nobody said that was all food');
		// To have said so once is nothing without a figure.
		expect(reasonOf(man, { intakeKcal: {} as typeof log.intakeKcal })).toBe('nobody said that was all food');
		expect(reasonOf(man)).toBeUndefined();
	});
	it('has nothing to eat back without a session, and the high end of all of them with some', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: {}, days };
		const net = { low: 300, value: 400, high: 500 };
		expect(fuelOf(man, log, [], today).eatBack).toBeUndefined();
		expect(fuelOf(man, log, [{ date: '2026-03-09', net }], today).eatBack).toBeUndefined();
		const both = [
			{ date: today, net },
			{ date: today, net }
		];
		expect(fuelOf(man, log, both, today).eatBack!.value!.value).toBe(1000);
		expect(fuelOf({ ...man, pregnant: true }, log, [], today).eatBack).toBeUndefined();
	});
	it('has the weights in order, each with the median of its seven days', () => {
		const weightKg = { '2026-03-09': 85, '2026-03-01': 90, '2026-03-03': 83, [today]: 84 };
		const { weights, medianKg } = fuelOf(man, { weightKg, intakeKcal: {}, days }, [], today);
		expect(weights.map(({ date, kg, medianKg: of }) => [date, kg, of])).toEqual([
			['2026-03-01', 90, 90],
			['2026-03-03', 83, 86.5],
			// From the 3rd to the 9th, and from the 4th to the 10th.
			['2026-03-09', 85, 84],
			[today, 84, 84.5]
		]);
		expect(medianKg).toBe(84.5);
	});
	it('plans for the days that are left to the goal', () => {
		const view = (date: string, kg = 83) =>
			fuelOf(
				{ ...man, dailyActivity: 'on your feet' },
				{ weightKg: { [today]: 84 }, intakeKcal: {}, days, goal: { kg, date } },
				[],
				today
			);
		// 21 days of March, then 30, 31, 30 and 10: 122 to 10 July, and a kilo in them is 7 / 122 a week.
		const { plan, path } = view('2026-07-10');
		if (plan?.kind !== 'reasonable') throw new Error(plan?.kind);
		expect(plan.neededKgPerWeek).toBeCloseTo(7 / 122, 9);
		expect(path).toMatchObject({ fromKg: 84, goalKg: 83 });
		expect(path!.goalDay - path!.fromDay).toBe(122);
		expect(path!.weeks.at(-1)!.toDay).toBe(122);
		expect(view('2026-07-10').earliestDate).toBeUndefined();
	});
	it('names the earliest day for a goal that is too near, and no way to it', () => {
		const view = fuelOf(
			{ ...man, dailyActivity: 'on your feet' },
			{ weightKg: { [today]: 84 }, intakeKcal: {}, days, goal: { kg: 81, date: '2026-03-12' } },
			[],
			today
		);
		if (view.plan?.kind !== 'refused') throw new Error(view.plan?.kind);
		expect(view.earliestDate).toBe(dateOf(dayNumber(today) + view.plan.earliestDays!));
		expect(view.earliestDate! > '2026-03-12').toBe(true);
		expect([view.path, view.planned]).toEqual([undefined, undefined]);
	});
	it('asks the young for what their needs hang on, and counts training in them', () => {
		const young = { ...man, birthYear: 2011 };
		const log = { weightKg: { [today]: 60 }, intakeKcal: {}, days };
		const view = fuelOf(young, log, [], today);
		expect(view).toMatchObject({ isAdult: false, need: youthNeedOf('male', 15, 180, 60), asksFood: true });
		for (const unknown of [{ heightCm: undefined }, { birthYear: undefined }, { sex: undefined }]) {
			const asked = fuelOf({ ...young, ...unknown }, log, [], today);
			expect(asked.budgetReason).toBe('Energy needs want year of birth, sex and height: enter them.');
			expect(asked.need).toBeUndefined();
		}
	});
	it('takes a confirmed adult of 18 for 19, whose equations those of adults are', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: {}, days };
		const budget = (more: { birthYear: number; isAdult?: true }) =>
			fuelOf({ ...man, ...more }, log, [], today).budget;
		expect(budget({ birthYear: 2008 })).toBeUndefined();
		expect(budget({ birthYear: 2008, isAdult: true })).toEqual(budget({ birthYear: 2007 }));
		expect(budget({ birthYear: 2007 })).toBeDefined();
	});
	it('asks for no food of whom it could harm', () => {
		const asks = (more: object) =>
			fuelOf({ ...man, ...more }, { weightKg: {}, intakeKcal: {}, days }, [], today).asksFood;
		expect([asks({}), asks({ eatingDisorderHistory: true }), asks({ pregnant: true })]).toEqual([
			true,
			false,
			false
		]);
	});
	it('is judged only where all food and all training were said, and both can be taken back for a day', () => {
		const said = { entries: [], allFood: true, allTraining: true };
		const log = (day?: TrainingDay) => ({
			weightKg: { [today]: 84 },
			intakeKcal: { [today]: 2600 },
			days: new Map(day && [[today, day]])
		});
		const { entersAllTraining: _, entersAllFood: __, ...silent } = man;
		const judged = (who: typeof silent, day?: TrainingDay) => fuelOf(who, log(day), [], today).days.at(-1)!;
		expect(judged(silent)).toMatchObject({
			availability: undefined,
			reason: expect.stringMatching(/all training/)
		});
		expect(judged(silent, { ...said, allFood: undefined }).reason).toMatch(/all food/);
		expect(judged(silent, said).availability).toBeDefined();
		expect(judged(man).availability).toBeDefined();
		expect(judged(man, { entries: [], allTraining: false }).availability).toBeUndefined();
	});
	it('takes a run of 600 kcal without a strap for no rest: 31 kcal a kg do not become 40', () => {
		// 84 kg with 20 % fat: 67.2 kg; 2,688 / 67.2 = 40, and less 600 kcal 2,088 / 67.2 = 31.1.
		const log = { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2688 } };
		const net = { low: 600, value: 600, high: 600 };
		const strapped = fuelOf(man, { ...log, days }, [{ date: today, net }], today).days.at(-1)!;
		expect(strapped.availability?.value).toBeCloseTo(31.07, 2);
		const run = new Map([[today, makeDay(makeEntry({ activity: 'running' }))]]);
		const entered = fuelOf(man, { ...log, days: run }, uncostedOf(run, new Map()), today).days.at(-1)!;
		expect(entered).toMatchObject({ availability: undefined, reason: 'the cost of a training is unknown' });
	});
	it('asks nothing more of an entry that tells a session once more', () => {
		const day = makeDay(makeEntry({ sameAs: 's1', effort: 7 }));
		const trainings = new Map([[today, [makeTraining({ effort: 5 })]]]);
		expect(uncostedOf(new Map([[today, day]]), trainings)).toEqual([]);
	});
	it('counts three low days in a row as three complete ones, whatever was not said between them', () => {
		const dates = ['2026-03-06', '2026-03-07', '2026-03-08', '2026-03-09', today];
		const intakeKcal = Object.fromEntries(dates.map((date) => [date, 2000]));
		const log = (open: string[]) => ({
			weightKg: { [today]: 84 },
			intakeKcal,
			days: new Map(open.map((date) => [date, { entries: [], allFood: false }]))
		});
		// 2,000 / 67.2 = 29.8, under 35.
		expect(fuelOf(man, log([]), [], today).underFloorDays).toBe(5);
		expect(fuelOf(man, log(['2026-03-07', '2026-03-09']), [], today).underFloorDays).toBe(3);
		expect(fuelOf(man, log(['2026-03-06', '2026-03-07', today]), [], today).underFloorDays).toBe(2);
	});
	it('plans on the training of days that are known, and on none where too few are', () => {
		const goal = { kg: 83, date: '2026-07-10' };
		const { entersAllTraining: _, ...silent } = man;
		const said = Array.from({ length: 7 }, (_, i): [string, TrainingDay] => [
			`2026-03-0${9 - i}`,
			{ entries: [], allTraining: true }
		]);
		const net = { low: 700, value: 700, high: 700 };
		const planned = (days: [string, TrainingDay][], cost = [{ date: '2026-03-09', net }]) =>
			fuelOf(silent, { weightKg: { [today]: 84 }, intakeKcal: {}, goal, days: new Map(days) }, cost, today);
		expect(planned(said.slice(1)).plan).toMatchObject({
			kind: 'none',
			reason: expect.stringMatching(/6 of the last 28/)
		});
		expect(planned(said.slice(1)).path).toBeUndefined();
		// One session of 700 in seven known days is 100 a day, as in 28 of which all are known and have 2,800.
		const all = fuelOf(
			man,
			{ weightKg: { [today]: 84 }, intakeKcal: {}, goal, days },
			Array.from({ length: 4 }, () => ({ date: '2026-03-09', net })),
			today
		);
		expect(planned(said).plan).toEqual(all.plan);
	});
	it('counts training at its high end wherever food hangs on it', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2800 }, days };
		const net = { low: 300, value: 400, high: 500 };
		const view = fuelOf(man, log, [{ date: today, net }], today);
		const quiet = fuelOf(man, { ...log, intakeKcal: { [today]: 2300 } }, [], today);
		expect(view.budget!.total.value - quiet.budget!.total.value).toBeCloseTo(500, 9);
		// 500 more eaten and 500 more spent leave the body the same.
		expect(view.days.at(-1)!.availability!.value).toBeCloseTo(quiet.days.at(-1)!.availability!.value, 9);
	});
	it('keeps figures of food from whom they could harm or were not made for', () => {
		const log = {
			weightKg: { [today]: 84 },
			intakeKcal: { [today]: 2000 },
			days,
			goal: { kg: 83, date: '2026-07-10' }
		};
		const net = { low: 300, value: 400, high: 500 };
		for (const bar of [{ eatingDisorderHistory: true }, { pregnant: true }, { birthYear: 2010 }] as const) {
			const view = fuelOf({ ...man, ...bar }, log, [{ date: today, net }], today);
			expect(view.barred).toBeDefined();
			expect([view.plan, view.path, view.planned, view.fatFree, view.budget, view.eatBack?.value]).toEqual([
				...Array.from({ length: 6 }, () => undefined)
			]);
			expect(view.days).toEqual([]);
			expect(view.eatBack?.reason).toBeDefined();
		}
		expect(fuelOf({ ...man, eatingDisorderHistory: true }, log, [], today).notLogged).toContain('doctor');
		expect(fuelOf({ ...man, pregnant: true }, log, [], today).notLogged).toBeUndefined();
		expect(fuelOf({ ...man, pregnant: true }, log, [], today).fatFreeReason).toBe(
			'No estimate here holds in pregnancy.'
		);
	});
	it('says why fat-free mass is unknown', () => {
		const old = { ...man, birthYear: 1938, bodyFatPercent: undefined, measuredFat: undefined };
		const view = fuelOf(old, { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2000 }, days }, [], today);
		expect(view.fatFreeReason).toContain('16 to 83 years');
		expect(view.days).toEqual([]);
	});
	it('eats a hard session back at its upper end, so that availability holds on that very day', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: {}, days, goal: { kg: 83, date: '2026-07-10' } };
		const net = { low: 300, value: 500, high: 800 };
		const view = fuelOf({ ...man, dailyActivity: 'on your feet' }, log, [{ date: today, net }], today);
		expect((view.planned!.low - net.high) / view.fatFree!.high).toBeGreaterThanOrEqual(35);
	});
	it('is the day of the place', () => {
		expect(dayOf(new Date(2026, 2, 5, 23, 59))).toBe('2026-03-05');
	});
});

describe('the weight that counts today', () => {
	it('is the median of the seven days up to the last weighing, else that of the card', () => {
		const card = { id: 'a', name: 'Adem', weightKg: 80 };
		expect(currentKg(card, {}, today)).toBe(80);
		expect(currentKg({ id: 'a', name: 'Adem' }, {}, today)).toBeUndefined();
		// One that lies ahead is none yet.
		expect(currentKg(card, { '2026-03-11': 90 }, today)).toBe(80);
		expect(currentKg(card, { '2026-02-01': 84, '2026-01-26': 86, '2026-01-25': 99 }, today)).toBe(85);
	});
});

describe('what training costs a day', () => {
	it('is the mean over the known days of four weeks, and nothing where none is known', () => {
		const net = { low: 280, value: 560, high: 840 };
		// 28 days that end with 10 March begin on 11 February.
		const sessions = [
			{ date: '2026-02-10', net },
			{ date: '2026-02-11', net },
			{ date: '2026-03-01' },
			{ date: '2026-03-09', net }
		];
		expect(meanExercise(sessions, today, () => true)).toEqual({ low: 20, value: 40, high: 60 });
		expect(meanExercise(sessions, today, (date) => date >= '2026-03-07')).toEqual({
			low: 70,
			value: 140,
			high: 210
		});
		expect(meanExercise(sessions, today, () => false)).toEqual({ low: 0, value: 0, high: 0 });
	});
});

describe('body fat for a plan', () => {
	it('is what was measured, with its age in days, before what was typed', () => {
		expect(fatFacts(man, today)).toEqual({ bodyFatPercent: 20, bodyFatAgeDays: 9 });
		expect(fatFacts({ ...man, measuredFat: undefined }, today)).toEqual({ bodyFatPercent: 20 });
	});
});
