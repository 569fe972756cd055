import * as v from 'valibot';
import { between, idSchema, shape, type MembersOf } from './check';
import { allSounds } from '$lib/bell/sound';
import type { BellSettings } from '$lib/bell/settings';
import { planSchema } from '$lib/rounds/plan-schema';

export const bellSettingsSchema = shape({
	on: v.object(v.entriesFromList(allSounds, v.boolean())),
	volume: between(0, 1),
	levels: v.optional(v.object(v.entriesFromList(allSounds, v.optional(between(0, 1))))),
	saysDrop: v.optional(v.boolean()),
	delayMs: between(0, 5000),
	keepAwake: v.boolean()
} satisfies MembersOf<BellSettings>);

export const mostLastPlans = 3;

/** Every setting there is. */
export const settingSchemas = {
	lastPlan: planSchema,
	/** The plans of the last sessions that were started, the latest first, one of each name. */
	lastPlans: v.pipe(v.array(planSchema), v.maxLength(mostLastPlans)),
	bell: bellSettingsSchema,
	/** The questions of the first visit were answered or skipped. */
	firstQuestionsAsked: v.boolean(),
	/** Who boxes now. */
	athlete: v.string(),
	/** Ids of those who stand in the corners, in order, where there are several. */
	corners: v.pipe(v.array(idSchema), v.maxLength(8)),
	units: v.picklist(['metric', 'imperial']),
	/** Dark as the ring under low light, light for bright halls, or as the system says. */
	theme: v.picklist(['dark', 'light', 'system']),
	/** Single keys act; they can be switched off (WCAG 2.2, 2.1.4). */
	hasKeys: v.boolean(),
	/** A retest is suggested after so many days. */
	retestAfterDays: v.pipe(v.number(), v.minValue(7), v.maxValue(730)),
	/** The threshold run's calls are spoken as well, where there is a voice. */
	spokenPrompts: v.boolean(),
	/** When everything here was last written to a file, ISO 8601 in UTC. */
	lastBackupAt: v.pipe(v.string(), v.isoTimestamp())
};

export type Settings = {
	[Name in keyof typeof settingSchemas]: v.InferOutput<(typeof settingSchemas)[Name]>;
};
