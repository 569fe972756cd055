import type { Answer } from '$lib/physiology/answer';
import { energyOf } from '$lib/physiology/energy';
import { netSessionKcal, type DailyActivity } from '$lib/physiology/energy-budget';
import { isContactSupported, secondsOf } from '$lib/physiology/grid';
import type { Range } from '$lib/physiology/range';
import { kJPerKcal } from '$lib/physiology/resting-expenditure';
import { unpackReadings } from './columns';
import { longestMeasuredMs } from './limits';
import type { SessionRecord } from './record';
import { energyActivityOf } from './session-costs';

/**
 * What a kept session cost on top of the day, kcal, from its readings and the athlete's numbers of that day.
 * Numbers that were not known then are taken from `now`, so that an early session is not lost.
 */
export function sessionNetKcal(
	{ head, body }: SessionRecord,
	activity: DailyActivity,
	now: { sex?: 'male' | 'female'; weightKg?: number; heightCm?: number; ageYears?: number }
): Answer<Range> {
	if (head.endedMs > longestMeasuredMs)
		return { reason: 'A session of that day is too long to be measured.' };
	const readings = unpackReadings(body);
	const seconds = secondsOf(readings, 0, head.endedMs / 1000, {
		ignoreContact: isContactSupported(readings) === false
	});
	const { athlete } = head;
	const { value, reason } = energyOf(
		seconds,
		{
			sex: athlete.sex ?? now.sex,
			weightKg: athlete.weightKg ?? now.weightKg,
			heightCm: athlete.heightCm ?? now.heightCm,
			ageYears: athlete.ageYears ?? now.ageYears,
			vo2Max: athlete.vo2max,
			measuredMaxBpm: athlete.measuredMaxBpm,
			slowingMedicine: athlete.slowingMedicine
		},
		{ activity: energyActivityOf(head.plan.activity) }
	);
	if (!value) return { reason };
	const gross = {
		low: value.lowKJ / kJPerKcal,
		value: value.grossKJ / kJPerKcal,
		high: value.highKJ / kJPerKcal
	};
	return { value: netSessionKcal(gross, value.restingKJ / kJPerKcal, activity) };
}
