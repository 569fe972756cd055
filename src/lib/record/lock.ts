import * as v from 'valibot';
import { daySchema, shape } from './check';
import { earlierStep, lastStep, lastUncleared, waySteps, type WayStep } from '$lib/physiology/way-steps';

/** What the guard needs of a blow to the head, under its day, and nothing that says why somebody is held back. */
export const lockSchema = shape({
	day: daySchema,
	/** The officials' stand-down lasts to this day, which is free again. */
	standDownUntil: v.optional(daySchema),
	step: v.picklist(waySteps),
	/** A doctor has cleared the athlete. */
	isCleared: v.optional(v.literal(true))
});
export type Lock = v.InferOutput<typeof lockSchema>;

/** Whether the way back is not at its end: no day ends it. */
export const isOnTheWay = ({ isCleared, step }: Lock) => !isCleared || step !== lastStep;

/**
 * The furthest step that is open: without clearance, or in the officials' stand-down, none beyond 3, whatever was set.
 *
 * @param today YYYY-MM-DD
 */
export function openStep({ step, standDownUntil, isCleared }: Lock, today: string): WayStep {
	const isStoodDown = standDownUntil !== undefined && today < standDownUntil;
	return isCleared && !isStoodDown ? step : earlierStep(step, lastUncleared);
}
