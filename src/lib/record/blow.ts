import * as v from 'valibot';
import { daySchema, instantSchema, shape, wholeBetween } from './check';
import {
	earlierStep,
	lastStep,
	lastUncleared,
	reaches,
	waySteps,
	type WayStep
} from '$lib/physiology/way-steps';

/**
 * A blow to the head, on the athlete's card under its day. Neither symptoms nor a diagnosis are kept: they are the
 * doctor's.
 */
export const blowSchema = shape({
	day: daySchema,
	/** The officials' stand-down lasts to this day, which is free again. */
	standDownUntil: v.optional(daySchema),
	/** As the doctor or coach has set it, and since when. */
	step: v.picklist(waySteps),
	since: instantSchema,
	/** The shortest stay in each step, as the federation has it; a day where nobody says. */
	daysPerStep: v.optional(wholeBetween(1, 60)),
	/** By a doctor, for this blow alone. It lapses by no date. */
	clearance: v.optional(
		shape({ by: v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(200)), day: daySchema })
	)
});
export type Blow = v.InferOutput<typeof blowSchema>;

const dayMs = 86_400_000;

/** A lock as pages before this one know it: their day without sparring, never to come. */
export const heldForOlderPages = '9999-12-31';

/** Whether a doctor has cleared the blow; a clearance from before it is none. */
export const isCleared = ({ clearance, day }: Blow) => clearance !== undefined && clearance.day >= day;

/** Whether the way back is not at its end: no day ends it. */
export const isOnTheWay = (blow: Blow) => !isCleared(blow) || blow.step !== lastStep;

/**
 * The furthest step that is open: without clearance, or in the officials' stand-down, none beyond 3, whatever was set.
 *
 * @param today YYYY-MM-DD
 */
export function openStep(blow: Blow, today: string): WayStep {
	const isStoodDown = blow.standDownUntil !== undefined && today < blow.standDownUntil;
	return isCleared(blow) && !isStoodDown ? blow.step : earlierStep(blow.step, lastUncleared);
}

/**
 * Why this step cannot be set at this moment, in a sentence. A step back always can; forward it goes singly, each step
 * held for 24 hours or as long as the federation says, and beyond 3 with a doctor's clearance after the stand-down.
 *
 * @param today the calendar day of that moment, YYYY-MM-DD
 */
export function whyNotStep(
	blow: Blow,
	step: WayStep,
	{ nowMs, today, isAdult }: { nowMs: number; today: string; isAdult: boolean }
): string | undefined {
	if (reaches(blow.step, step)) return undefined;
	if (waySteps.indexOf(step) > waySteps.indexOf(blow.step) + 1) return 'The steps open one after the other.';
	if (!isAdult && blow.daysPerStep === undefined)
		return 'Under 18 each step lasts longer. Enter the days that the federation says.';
	const days = blow.daysPerStep ?? 1;
	if (nowMs - Date.parse(blow.since) < days * dayMs)
		return `Each step lasts at least ${days === 1 ? '24 hours' : `${days} days`}.`;
	if (reaches(lastUncleared, step)) return undefined;
	if (!isCleared(blow)) return 'This step opens with a doctor’s clearance. Enter it first.';
	return openStep({ ...blow, step }, today) === step
		? undefined
		: 'The stand-down of the officials is not over.';
}

/** What is wrong with a blow that somebody enters, in a sentence; undefined where nothing is. */
export function blowProblem(blow: Blow, today: string, nowMs: number): string | undefined {
	const { day, standDownUntil, clearance, since } = blow;
	if (day > today) return 'The day of the blow lies ahead. Enter the day on which it happened.';
	if (standDownUntil !== undefined && standDownUntil < day)
		return 'The stand-down ends before the blow. Enter the day on which it ends.';
	// The day here may have begun up to 14 hours before that in UTC.
	if (Date.parse(since) < Date.parse(day) - dayMs)
		return 'The step began before the blow. Enter when it was set.';
	if (Date.parse(since) > nowMs) return 'The step begins in the future. Enter when it was set.';
	if (!clearance) return undefined;
	if (clearance.by.trim() === '') return 'Enter the doctor who gave the clearance.';
	if (clearance.day < day) return 'The clearance was given before the blow. It must be for this blow.';
	return clearance.day > today ? 'The clearance lies ahead. Enter the day on which it was given.' : undefined;
}

/**
 * What holds of several words on one blow that were said unaware of each other: of each part the strictest.
 *
 * @param all the latest first
 */
export function strictest(all: readonly [Blow, ...Blow[]]): Blow {
	const { standDownUntil: _, daysPerStep: __, clearance: ___, ...latest } = all[0];
	const step = all.map((blow) => blow.step).reduce(earlierStep);
	const since = all.flatMap((blow) => (blow.step === step ? blow.since : [])).reduce(later);
	const until = all.map(({ standDownUntil = '' }) => standDownUntil).reduce(later);
	const days = Math.max(...all.map(({ daysPerStep = 0 }) => daysPerStep));
	const given = all.flatMap(({ clearance }) => clearance ?? []);
	return {
		...latest,
		step,
		since,
		...(until !== '' && { standDownUntil: until }),
		...(days > 0 && { daysPerStep: days }),
		...(given.length === all.length && {
			clearance: given.reduce((one, other) => (other.day > one.day ? other : one))
		})
	};
}

const later = (one: string, other: string) => (other > one ? other : one);
