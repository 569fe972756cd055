import { describe, expect, it } from 'vitest';
import { logFuel, readFuelLog, saveGoal } from '$lib/store/fuel';
import { freshStore, plant } from './fresh-store';

describe('the fuel log', () => {
	it('keeps days apart, and athletes', async () => {
		const store = freshStore();
		await logFuel(store, 'weight', 'a', '2026-03-01', 70.5);
		await logFuel(store, 'intake', 'a', '2026-03-01', 2500);
		await logFuel(store, 'weight', 'b', '2026-03-01', 60);
		await saveGoal(store, 'a', { kg: 69, date: '2026-05-01' });
		expect(await readFuelLog(store, 'a')).toEqual({
			weightKg: { '2026-03-01': 70.5 },
			intakeKcal: { '2026-03-01': 2500 },
			goal: { kg: 69, date: '2026-05-01' },
			unreadable: []
		});
	});
	it('makes a day unknown again, and drops the goal', async () => {
		const store = freshStore();
		await logFuel(store, 'intake', 'a', '2026-03-01', 2500);
		await logFuel(store, 'intake', 'a', '2026-03-01', undefined);
		await saveGoal(store, 'a', { kg: 69, date: '2026-05-01' });
		await saveGoal(store, 'a', undefined);
		expect(await readFuelLog(store, 'a')).toEqual({ weightKg: {}, intakeKcal: {}, unreadable: [] });
	});
	it('refuses what cannot be true, and names what is damaged', async () => {
		const store = freshStore();
		await expect(logFuel(store, 'weight', 'a', '2026-03-01', 700)).rejects.toThrow(/weight was not stored/);
		await expect(logFuel(store, 'weight', 'a', 'Monday', 70)).rejects.toThrow(/day was not stored/);
		await plant(store, 'weight/a/2026-03-02', 'heavy');
		expect((await readFuelLog(store, 'a')).unreadable[0]!.key).toBe('weight/a/2026-03-02');
	});
});
