import { practiceStrap } from '$lib/gatt/practice-strap';
import type { Plan } from '$lib/rounds/plan';
import { phaseAt, timelineOf } from '$lib/rounds/timeline';
import { packReadings, type Reading } from '$lib/record/columns';
import { practiceEffort } from '$lib/session/practice-effort';
import { recordVersion } from '$lib/record/check';
import type { SessionRecord } from '$lib/record/body';
import { manualClock } from '$lib/time/manual-clock';

/** Rounds of three minutes with a minute's rest until `hours` are over. */
export function planOf(hours: number): Plan {
	return {
		name: `${hours} h of rounds`,
		activity: 'bag',
		roundCount: hours * 15,
		roundS: 180,
		restS: 60,
		warmUpS: 0,
		getReadyS: 10,
		coolDownS: 0,
		endWarningS: 10,
		startWarningS: 10
	};
}

export const athlete = {
	athleteId: 'bench',
	name: 'Bench',
	thresholdBpm: 170,
	measuredMaxBpm: 190,
	ageYears: 27,
	sex: 'male' as const,
	heightCm: 178,
	weightKg: 72,
	restBpm: 55
};

/** A session of the simulated athlete with every RR interval, as a kept record. */
export async function recordOf(hours: number, id: string, seed = 7): Promise<SessionRecord> {
	const plan = planOf(hours);
	const timeline = timelineOf(plan);
	const endMs = timeline.at(-1)?.endMs ?? 0;
	const clock = manualClock();
	const readings: Reading[] = [];
	const strap = practiceStrap({
		clock,
		seed,
		effortAt: (ms) => practiceEffort(phaseAt(timeline, ms), ms)
	});
	strap.onReading(({ ms, measurement }) => readings.push({ ms, ...measurement }));
	await strap.connect();
	clock.advanceTo(endMs);
	strap.close();
	return {
		head: {
			version: recordVersion,
			id,
			groupId: id,
			startedAt: '2026-03-02T18:00:00.000Z',
			zone: 'Europe/Lisbon',
			endedMs: endMs,
			plan,
			amendments: [],
			athlete,
			strapName: 'Bench strap',
			practice: false,
			events: []
		},
		body: packReadings(readings)
	};
}
