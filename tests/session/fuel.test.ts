import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/session/columns';
import { dayOf } from '$lib/session/athlete-changes';
import { dayCostsOf, fuelOf } from '$lib/session/fuel';
import { energyWords, fromKg, toKcal, toKg, weightWords } from '$lib/session/fuel-units';
import { recordVersion } from '$lib/session/record';
import { sessionNetKcal } from '$lib/session/session-energy';
import { athlete, makeStart } from './builders';

const man = {
	id: 'a',
	name: 'Adem',
	sex: 'male',
	heightCm: 180,
	birthYear: 1996,
	bodyFatPercent: 20
} as const;
const today = '2026-03-10';

describe('units', () => {
	it('follow the exact definitions', () => {
		// International yard and pound agreement, 1959: 1 lb = 0.45359237 kg; 14 lb to the stone.
		expect(toKg(10, 'lb')).toBeCloseTo(4.5359237, 12);
		expect(toKg(1, 'st')).toBeCloseTo(6.35029318, 12);
		expect(weightWords(toKg(11.5, 'st'), 'st')).toBe('11 st 7.0 lb');
		expect(energyWords(1000, 'kJ')).toBe('4,180 kJ');
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
		const facts = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;
		const net = sessionNetKcal({ head, body: packReadings(readings) }, 'sitting', facts).value!;
		const logged = dayCostsOf([{ head, body: packReadings(readings) }], man, { '2026-03-01': 75 }, today);
		// A weight from the log serves where the record has none; 30 years as above.
		expect(logged.costs).toEqual([{ date: dayOf(new Date(startedAt)), net }]);
		expect(dayCostsOf([{ head, body: packReadings(readings) }], man, {}, today).unknown[0]).toContain(
			'body mass'
		);
		// Keytel 60.4991 kJ/min x 10 min / 4.184, times 0.65, 0.825 and 1; less 1730 / 144 times 1.5, 1.4, 1.3.
		const gross = 604.991 / 4.184;
		expect(net.low).toBeCloseTo(0.65 * gross - (1730 / 144) * 1.5, 1);
		expect(net.value).toBeCloseTo(0.825 * gross - (1730 / 144) * 1.4, 1);
		expect(net.high).toBeCloseTo(gross - (1730 / 144) * 1.3, 1);
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
	it('eats a hard session back at its upper end, so that availability holds on that very day', () => {
		const log = { weightKg: { [today]: 84 }, intakeKcal: {}, goal: { kg: 83, date: '2026-07-10' } };
		const net = { low: 300, value: 500, high: 800 };
		const view = fuelOf({ ...man, dailyActivity: 'on your feet' }, log, [{ date: today, net }], today);
		expect((view.plannedKcal! - net.high) / view.fatFree!.high).toBeGreaterThanOrEqual(35);
	});
	it('is the day of the place', () => {
		expect(dayOf(new Date(2026, 2, 5, 23, 59))).toBe('2026-03-05');
	});
});
