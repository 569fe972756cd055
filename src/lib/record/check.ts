import * as v from 'valibot';
import { longestKeptMs } from './limits';
import { plainIssue } from './plain-issue';

/** Raised with every change of the stored form; migrations lead from each older number to this one. */
export const recordVersion = 1;

/**
 * The form of a session of several blocks. It differs in nothing else, and needs no step: it is there so that a page from
 * before there were blocks says that it needs updating, instead of measuring the first block as if it were the whole.
 */
export const blocksVersion = 2;

/** What a check of something read back came to: the value, or one plain sentence on what is wrong. */
export type Checked<T> = { value: T; problem?: undefined } | { value?: undefined; problem: string };

/** The members of a type that stands in another room: one that it has and a schema forgot does not compile. */
export type MembersOf<T> = { [Name in keyof T]-?: v.GenericSchema<unknown, T[Name]> };

/**
 * An object of these members, whose type is inferred from them. Members that this page does not know were written by a
 * later one: they are carried along, and the type says nothing of them.
 */
export function shape<const Members extends v.ObjectEntries>(members: Members) {
	return v.looseObject(members) as unknown as v.GenericSchema<
		unknown,
		v.InferOutput<v.ObjectSchema<Members, undefined>>
	>;
}

// Bounds here are wider than those of the forms: they keep out what would hang or mislead the page, and a
// value that was accepted when it was typed must stay readable for ever.
export const between = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.minValue(lowest), v.maxValue(highest));

export const wholeBetween = (lowest: number, highest: number) =>
	v.pipe(v.number(), v.integer(), v.minValue(lowest), v.maxValue(highest));

/** Ids become parts of keys, so the slash that divides a key is not in them. */
export const idSchema = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/, 'this is not an id'));

const notAnInstant = 'this is not a time in UTC such as 2026-03-01T18:30:00.000Z';

/**
 * A moment, ISO 8601 in UTC, to the millisecond, exactly as toISOString writes it: one spelling an instant, so that text
 * order is time order.
 */
export const instantSchema = v.pipe(
	v.string(),
	v.regex(/^([+-]\d\d)?\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/, notAnInstant),
	// No month has 45 days: the calendar is beyond a pattern.
	v.check((text) => {
		const instant = new Date(text);
		return !Number.isNaN(instant.getTime()) && instant.toISOString() === text;
	}, notAnInstant)
);

export const bpmSchema = between(1, 300);

export const elapsedMs = between(-longestKeptMs, longestKeptMs);

/** A day of the calendar, ISO 8601: YYYY-MM-DD. */
export const daySchema = v.pipe(v.string(), v.isoDate());

const longestPlace = 100;

/**
 * Checks something read back from storage or from a file. Never throws. A form newer than this page knows is told apart from a damaged one.
 *
 * @param newest the newest form of it that this page knows; of sessions unless told
 */
export function check<T>(
	schema: v.GenericSchema<unknown, T>,
	value: unknown,
	newest: number = blocksVersion
): Checked<T> {
	const version = typeof value === 'object' && value && 'version' in value ? value.version : undefined;
	if (typeof version === 'number' && version > newest)
		return {
			problem: `It was written by a newer version of this page (form ${version}; this page reads up to ${newest}). Reload the page to update it.`
		};
	const result = v.safeParse(schema, value, { abortEarly: true });
	if (result.success) return { value: result.output };
	const issue = result.issues[0];
	const where = v.getDotPath(issue);
	// A place is made of names that a damaged entry may have of any length.
	const place = where && (where.length > longestPlace ? `${where.slice(0, longestPlace)}…` : where);
	return { problem: `It is damaged${place ? ` at "${place}"` : ''}: ${plainIssue(issue)}.` };
}
