import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import { dayOf } from '$lib/record/athlete-changes';
import { dayCostsOf, fuelOf } from '$lib/review/fuel';
import { fromKg, toKcal, toKg } from '$lib/review/units';
import { recordVersion } from '$lib/record/check';
import { sessionNetKcal } from '$lib/review/session-energy';
import { athlete, makeStart } from '../session/builders';

const man = {
	id: 'a',
	name: 'Adem',
	sex: 'male',
	heightCm: 180,
	birthYear: 1996,
	bodyFatPercent: 20,
	measuredFat: { percent: 20, day: '2026-03-01', method: 'skinfolds' }
} as const;
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
		const view = fuelOf(man, { weightKg: { [today]: 84 }, intakeKcal: { '2026-03-09': 2600 } }, [], today);
		expect(view.days.filter(({ availability }) => availability).map(({ date }) => date)).toEqual([
			'2026-03-09'
		]);
		expect(fuelOf(man, { weightKg: {}, intakeKcal: {} }, [], today).budgetReason).toContain('Log a weight');
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
					const { days, underFloorDays } = fuelOf(man, { weightKg: { [today]: 84 }, intakeKcal }, [], today);
					expect(days.map(({ date }) => date)).toEqual(dates);
					expect(days.map(({ availability }) => availability !== undefined)).toEqual(
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
	it('counts training at its high end wherever food hangs on it', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2800 } };
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
	});
	it('says why fat-free mass is unknown', () => {
		const old = { ...man, birthYear: 1938, bodyFatPercent: undefined, measuredFat: undefined };
		const view = fuelOf(old, { weightKg: { [today]: 84 }, intakeKcal: { [today]: 2000 } }, [], today);
		expect(view.fatFreeReason).toContain('16 to 83 years');
		expect(view.days).toEqual([]);
	});
	it('eats a hard session back at its upper end, so that availability holds on that very day', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: {}, goal: { kg: 83, date: '2026-07-10' } };
		const net = { low: 300, value: 500, high: 800 };
		const view = fuelOf({ ...man, dailyActivity: 'on your feet' }, log, [{ date: today, net }], today);
		expect((view.planned!.low - net.high) / view.fatFree!.high).toBeGreaterThanOrEqual(35);
	});
	it('is the day of the place', () => {
		expect(dayOf(new Date(2026, 2, 5, 23, 59))).toBe('2026-03-05');
	});
});
