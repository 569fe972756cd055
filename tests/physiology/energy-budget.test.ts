import { describe, expect, it } from 'vitest';
import { availabilityBand, availabilityOf, daysUnderFloor } from '$lib/physiology/availability';
import { budgetOf, netSessionKcal, type EnergyBudget } from '$lib/physiology/energy-budget';
import { fatFreeMassOf } from '$lib/physiology/fat-free-mass';
import type { Range } from '$lib/physiology/range';

const man = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;

function expectRange(actual: Range | undefined, low: number, value: number, high: number): void {
	expect(actual?.low).toBeCloseTo(low, 8);
	expect(actual?.value).toBeCloseTo(value, 8);
	expect(actual?.high).toBeCloseTo(high, 8);
}

describe('a day’s energy', () => {
	// 1730 kcal at rest (Mifflin et al. 1990), a tenth either way; the factors are those of the page (own rule).
	it.each([
		['sitting', 0.3, 0.4, 0.5],
		['on your feet', 0.45, 0.6, 0.7],
		['heavy work', 0.6, 0.75, 0.9]
	] as const)('is rest, what a day of %s adds to it, and the sessions', (activity, low, value, high) => {
		const budget = budgetOf(man, activity, [
			{ low: 100, value: 150, high: 250 },
			{ low: 10, value: 20, high: 30 }
		]).value as EnergyBudget;

		expectRange(budget.resting, 1557, 1730, 1903);
		expectRange(budget.ordinary, 1557 * low, 1730 * value, 1903 * high);
		expectRange(budget.sessions, 110, 170, 280);
		expectRange(budget.total, 1557 * (1 + low) + 110, 1730 * (1 + value) + 170, 1903 * (1 + high) + 280);
		expect(budget.method).toBe('Mifflin-St Jeor');
	});

	it('is unknown, with the reason, without a body mass or an age', () => {
		expect(budgetOf({ ...man, weightKg: undefined }, 'sitting', []).reason).toMatch(/body mass is not given/);
		expect(budgetOf({ ...man, ageYears: undefined }, 'sitting', []).reason).toMatch(/age is not given/);
	});

	it('is raised by a session only by what the same time would not have cost anyway', () => {
		expectRange(netSessionKcal({ low: 400, value: 500, high: 600 }, 70, 'sitting'), 295, 402, 509);
		expectRange(netSessionKcal({ low: 400, value: 500, high: 600 }, 100, 'heavy work'), 210, 325, 440);
		expectRange(netSessionKcal({ low: 100, value: 140, high: 170 }, 100, 'sitting'), 0, 0, 40);
		expectRange(netSessionKcal({ low: 0, value: 0, high: 0 }, 100, 'sitting'), 0, 0, 0);
	});
});

describe('energy availability', () => {
	const exercise = { low: 500, value: 700, high: 900 };
	const lean = { low: 48, value: 50, high: 60 };

	it('takes the unfavourable ends of all that goes in', () => {
		expectRange(availabilityOf(2400, exercise, lean), 1500 / 60, 34, 1900 / 48);
	});

	it('is the further under nothing the less body there is', () => {
		expectRange(availabilityOf(300, exercise, lean), -600 / 48, -400 / 50, -200 / 60);
		expectRange(availabilityOf(600, exercise, lean), -300 / 48, -100 / 50, 100 / 48);
		expectRange(availabilityOf(500, exercise, lean), -400 / 48, -200 / 50, 0);
		expectRange(availabilityOf(900, exercise, lean), 0, 200 / 50, 400 / 48);
	});

	it('counts days under the floor of 35 back to the last one that was not', () => {
		expect(daysUnderFloor([34.9, 34.9, 34.9])).toBe(3);
		expect(daysUnderFloor([34, 35, 34.9])).toBe(1);
		expect(daysUnderFloor([34, 34, 35])).toBe(0);
		expect(daysUnderFloor([20, undefined, undefined, 30, undefined])).toBe(2);
		expect(daysUnderFloor([])).toBe(0);
	});

	it('is told in bands, each from its lower edge on', () => {
		expect([-5, 29.99, 30, 34.99, 35, 44.99, 45].map(availabilityBand)).toEqual([
			'low',
			'low',
			'under the floor',
			'under the floor',
			'reduced',
			'reduced',
			'in balance'
		]);
	});
});

describe('fat-free mass', () => {
	const athlete = { weightKg: 80, ageYears: 30 };

	it('is known to two points of fat where that was measured', () => {
		const { value } = fatFreeMassOf({ ...athlete, bodyFatPercent: 15 });
		expectRange(value, 66.4, 68, 69.6);
		expect(value?.method).toBe('measured body fat');
	});

	it('is known to 4.1 points where it is estimated', () => {
		// 80 kg at 2 m are a body mass index of 20: 24 + 6.9 - 10.8 - 5.4 are 14.7 % in a man, 25.5 in a woman.
		const facts = { ...athlete, heightCm: 200 };
		const ofMan = fatFreeMassOf({ ...facts, sex: 'male' }).value;
		expectRange(ofMan, 80 * (1 - 0.188), 80 * (1 - 0.147), 80 * (1 - 0.106));
		expect(ofMan?.method).toBe('estimated from body mass index');
		const ofWoman = fatFreeMassOf({ ...facts, sex: 'female' }).value;
		expectRange(ofWoman, 80 * (1 - 0.296), 80 * (1 - 0.255), 80 * (1 - 0.214));
	});

	it('never takes fat under 2 % or over 70', () => {
		expectRange(fatFreeMassOf({ ...athlete, bodyFatPercent: 3 }).value, 76, 77.6, 78.4);
		expectRange(fatFreeMassOf({ ...athlete, bodyFatPercent: 69 }).value, 24, 24.8, 26.4);
	});

	it('needs sex and height where no fat was measured', () => {
		const reason = 'Fat-free mass needs a body-fat figure, or sex and height for an estimate: enter them.';
		expect(fatFreeMassOf({ ...athlete, sex: 'male' })).toEqual({ reason });
		expect(fatFreeMassOf({ ...athlete, heightCm: 180 })).toEqual({ reason });
	});
});
