import { shortPlan } from '../session/builders';
import type { Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import { packReadings } from '$lib/record/columns';
import { practisedReadings } from '$lib/session/practised-readings';
import { recordVersion } from '$lib/record/check';
import type { SessionRecord } from '$lib/record/body';

/** Rounds of three minutes with a minute's rest until `hours` are over. */
export function planOf(hours: number): Plan {
	return {
		...shortPlan,
		name: `${hours} h of rounds`,
		activity: 'bag',
		roundCount: hours * 15,
		roundS: 180
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
	return {
		head: {
			version: recordVersion,
			id,
			groupId: id,
			startedAt: '2026-03-02T18:00:00.000Z',
			zone: 'Europe/Lisbon',
			endedMs: timelineOf(plan).at(-1)?.endMs ?? 0,
			plan,
			amendments: [],
			athlete,
			strapName: 'Bench strap',
			practice: false,
			events: []
		},
		body: packReadings(await practisedReadings(plan, seed))
	};
}
