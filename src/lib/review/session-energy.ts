import type { Answer } from '$lib/physiology/answer';
import { energyOfParts } from '$lib/physiology/energy-parts';
import { netSessionKcal, type DailyActivity } from '$lib/physiology/energy-budget';
import { secondsOf } from '$lib/physiology/grid';
import type { Range } from '$lib/physiology/range';
import { kJPerKcal, type RestingFacts } from '$lib/physiology/resting-expenditure';
import { heardIn } from './heard';
import { longestMeasuredMs } from '$lib/record/limits';
import type { SessionRecord } from '$lib/record/body';
import { blocksAfter } from '$lib/rounds/timeline';
import { energyPartsOf } from './session-costs';
import { stretchesOf } from './stretches';
import { livedPhases } from './summary';

/**
 * What a kept session cost on top of the day, kcal, from its readings and the athlete's numbers of that day.
 * Numbers that were not known then are taken from `now`, so that an early session is not lost.
 */
export function sessionNetKcal(
	record: SessionRecord,
	activity: DailyActivity,
	now: RestingFacts
): Answer<Range> {
	const { head } = record;
	if (head.endedMs > longestMeasuredMs)
		return { reason: 'A session of that day is too long to be measured.' };
	const { athlete } = head;
	const seconds = secondsOf(heardIn(record).readings, 0, head.endedMs / 1000);
	const stretches = stretchesOf(seconds, 0, livedPhases(head), blocksAfter(head.plan, head.amendments));
	const { value, reason } = energyOfParts(energyPartsOf(stretches), {
		sex: athlete.sex ?? now.sex,
		weightKg: athlete.weightKg ?? now.weightKg,
		heightCm: athlete.heightCm ?? now.heightCm,
		ageYears: athlete.ageYears ?? now.ageYears,
		bodyFatPercent: now.bodyFatPercent,
		vo2Max: athlete.vo2max,
		measuredMaxBpm: athlete.measuredMaxBpm,
		slowingMedicine: athlete.slowingMedicine
	});
	if (!value) return { reason };
	const gross = {
		low: value.lowKJ / kJPerKcal,
		value: value.grossKJ / kJPerKcal,
		high: value.highKJ / kJPerKcal
	};
	return { value: netSessionKcal(gross, value.restingKJ / kJPerKcal, activity) };
}
