import * as v from 'valibot';
import { activities, planKinds, postures, type Plan } from './plan';

const wholeBetween = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.integer(), v.minValue(lowest), v.maxValue(highest));

/** No part of a plan that is kept is longer, in seconds: four hours. */
export const longestPartS = 4 * 3600;
const seconds = wholeBetween(0, longestPartS);

export const activitySchema = v.picklist(activities);
export const postureSchema = v.picklist(postures);

/**
 * The form in which a plan is kept, and without which none may start. Wider than the form on the screen: what was
 * accepted when it was typed must stay readable for ever.
 */
export const planSchema = v.looseObject({
	name: v.string(),
	activity: activitySchema,
	roundCount: wholeBetween(1, 1000),
	roundS: seconds,
	restS: seconds,
	warmUpS: seconds,
	getReadyS: seconds,
	coolDownS: seconds,
	endWarningS: seconds,
	startWarningS: seconds,
	kind: v.optional(v.picklist(planKinds)),
	posture: v.optional(postureSchema),
	restDownToPercent: v.optional(wholeBetween(1, 100)),
	followsGymBell: v.optional(v.literal(true))
} satisfies {
	[Name in keyof Plan]-?: v.GenericSchema<unknown, Plan[Name]>;
}) as unknown as v.GenericSchema<unknown, Plan>;
