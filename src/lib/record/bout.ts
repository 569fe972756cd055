import * as v from 'valibot';
import { between, daySchema, idSchema, shape, wholeBetween } from './check';

const timeSchema = v.pipe(v.string(), v.isoTime());
const wordsSchema = v.pipe(v.string(), v.maxLength(200));
// Far beyond what a federation has, and what somebody eats on a day.
const mostListed = 40;

export const campPhases = [
	'general',
	'special preparation',
	'early camp',
	'late camp',
	'transition'
] as const;
export type CampPhase = (typeof campPhases)[number];

/** A bout that is agreed, on the athlete's card. Days are YYYY-MM-DD and times HH:MM, on the clock of the hall. */
export const boutSchema = shape({
	id: idSchema,
	day: daySchema,
	place: v.optional(wordsSchema),
	weighInDay: v.optional(daySchema),
	weighInTime: v.optional(timeSchema),
	limitKg: v.optional(between(10, 400)),
	/** The limits of the classes, as the federation has them. */
	classesKg: v.optional(v.pipe(v.array(between(10, 400)), v.maxLength(mostListed))),
	roundCount: v.optional(wholeBetween(1, 15)),
	roundS: v.optional(wholeBetween(30, 600)),
	/** Least hours between weigh-in and bout, as the local rules have them. */
	hoursBetween: v.optional(between(0, 72)),
	/** The first day of the camp; eight weeks before the bout where nobody says. */
	campFrom: v.optional(daySchema),
	/** Phases that were moved, by the Monday of their week. */
	phases: v.optional(v.record(daySchema, v.picklist(campPhases))),
	/** The walk to the ring, and meals as somebody typed them. */
	walkTime: v.optional(timeSchema),
	meals: v.optional(v.pipe(v.array(shape({ time: timeSchema, words: wordsSchema })), v.maxLength(mostListed)))
});
export type Bout = v.InferOutput<typeof boutSchema>;
