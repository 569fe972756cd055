import { padsPlan } from './builders';
import { defaultBellSettings } from '$lib/bell/settings';
import type { UseStore } from '$lib/store/database';
import { logFuel, saveGoal } from '$lib/store/fuel';
import { savePlan } from '$lib/store/plans';
import { setSetting } from '$lib/store/settings';

/** One of everything that is kept beside athletes and their sessions. */
export async function savePlanAndFuel(store: UseStore): Promise<void> {
	await savePlan(store, { id: 'plan-1', plan: padsPlan });
	await setSetting(store, 'bell', defaultBellSettings);
	await setSetting(store, 'athlete', 'ath-1');
	await logFuel(store, 'weight', 'ath-1', '2026-03-01', 61.4);
	await logFuel(store, 'intake', 'ath-1', '2026-03-01', 2350);
	await saveGoal(store, 'ath-1', { kg: 60, date: '2026-05-01' });
}
