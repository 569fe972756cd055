import * as v from 'valibot';
import { bandAims, mostEffort, mostSharePercent, type Aim } from './aim';
import { mostBlocks } from './blocks';
import { activities, planKinds, postures, type Block, type HandOvers, type Plan } from './plan';

const wholeBetween = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.integer(), v.minValue(lowest), v.maxValue(highest));

/** No part of a plan that is kept is longer, in seconds: four hours. */
export const longestPartS = 4 * 3600;
const seconds = wholeBetween(0, longestPartS);

export const activitySchema = v.picklist(activities);
export const postureSchema = v.picklist(postures);

const roundCount = wholeBetween(1, 1000);
const percent = wholeBetween(1, mostSharePercent);

export const aimSchema: v.GenericSchema<unknown, Aim> = v.variant('kind', [
	v.looseObject({ kind: v.picklist(bandAims) }),
	v.looseObject({ kind: v.literal('share of maximum'), fromPercent: percent, toPercent: percent }),
	v.looseObject({ kind: v.literal('effort'), effort: wholeBetween(0, mostEffort) })
]);

const blockMembers = {
	activity: activitySchema,
	roundCount,
	roundS: seconds,
	restS: seconds,
	restDownToPercent: v.optional(percent),
	aim: v.optional(aimSchema)
};

export const blockSchema = v.looseObject({
	...blockMembers,
	pauseS: seconds
} satisfies {
	[Name in keyof Block]-?: v.GenericSchema<unknown, Block[Name]>;
}) as unknown as v.GenericSchema<unknown, Block>;

const handOversSchema = v.looseObject({
	afterRounds: v.pipe(v.array(wholeBetween(1, 1000)), v.maxLength(1000)),
	lengthS: seconds
} satisfies {
	[Name in keyof HandOvers]-?: v.GenericSchema<unknown, HandOvers[Name]>;
}) as unknown as v.GenericSchema<unknown, HandOvers>;

/**
 * The form in which a plan is kept, and without which none may start. Wider than the form on the screen: what was
 * accepted when it was typed must stay readable for ever.
 */
export const planSchema = v.looseObject({
	name: v.string(),
	...blockMembers,
	blocks: v.optional(v.pipe(v.array(blockSchema), v.maxLength(mostBlocks - 1))),
	handOvers: v.optional(handOversSchema),
	warmUpS: seconds,
	getReadyS: seconds,
	coolDownS: seconds,
	endWarningS: seconds,
	startWarningS: seconds,
	kind: v.optional(v.picklist(planKinds)),
	posture: v.optional(postureSchema),
	followsGymBell: v.optional(v.literal(true))
} satisfies {
	[Name in keyof Plan]-?: v.GenericSchema<unknown, Plan[Name]>;
}) as unknown as v.GenericSchema<unknown, Plan>;
