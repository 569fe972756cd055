import { isMoved } from '$lib/record/put-right';
import type { RecordHead } from '$lib/record/head';
import type { FoldedEdit, ToldLater } from '$lib/record/edit';
import { weightWordsIn, type Units } from './units';

/** What was recorded where something else stands now, in a sentence; undefined where nothing was put right. */
export function putRightWords(head: RecordHead, edit: FoldedEdit): string | undefined {
	const was = [
		isMoved(head, edit) && head.athlete.name,
		edit.activity !== undefined && edit.activity !== head.plan.activity && head.plan.activity,
		edit.planName !== undefined && edit.planName !== head.plan.name && `plan “${head.plan.name}”`
	].filter((words) => typeof words === 'string');
	if (was.length === 0) return undefined;
	const numbers = isMoved(head, edit)
		? ` Threshold, weight and age are those of ${edit.athlete!.name} on that day, as far as they are known.`
		: '';
	return `Put right afterwards; recorded as: ${was.join(', ')}.${numbers}`;
}

/** Numbers that were told afterwards, for the eye: `toldWords({ weightKg: 70, ageYears: 27 }, 'metric')`. */
export function toldWords(told: ToldLater, units: Units): string {
	const { sex, ageYears, weightKg, heightCm, restBpm, thresholdBpm, measuredMaxBpm } = told;
	const tenths = (value: number) => Math.round(value * 10) / 10;
	return [
		sex,
		ageYears !== undefined && `age ${ageYears}`,
		weightKg !== undefined && `weight ${weightWordsIn(units, weightKg)}`,
		heightCm !== undefined && 'height',
		restBpm !== undefined && `resting rate ${tenths(restBpm)}`,
		thresholdBpm !== undefined && `threshold ${tenths(thresholdBpm)}`,
		measuredMaxBpm !== undefined && `maximum ${measuredMaxBpm}`
	]
		.filter((words) => typeof words === 'string')
		.join(', ');
}
