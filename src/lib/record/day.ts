import * as v from 'valibot';
import { between, check, idSchema, instantSchema, shape, wholeBetween, type Checked } from './check';
import { changedRegisters, registersSchema, type Registers } from './registers';

/** A training that somebody entered, with a strap or without one. */
export const dayEntrySchema = shape({
	id: idSchema,
	/** What was done, in the gym's words. */
	activity: v.pipe(v.string(), v.maxLength(60), v.trim(), v.minLength(1)),
	/** Of the whole training, rests included. */
	minutes: wholeBetween(1, 1440),
	/** How hard it felt, 0 to 10; absent as long as nobody said. */
	effort: v.optional(between(0, 10)),
	/** When it was first entered, ISO 8601 in UTC. */
	madeAt: instantSchema,
	/** The group of the session that it was part of. */
	groupId: v.optional(idSchema),
	/** The entry or session that it tells once more. */
	sameAs: v.optional(idSchema),
	/** Entries and sessions of the day that are known to be other trainings. */
	beside: v.optional(v.array(idSchema))
});

/**
 * A day of an athlete. It is *known* where it has a session, an entry or a tick for rest; else unknown, which is never 0.
 */
export const trainingDaySchema = shape({
	entries: v.array(dayEntrySchema),
	/** A day of rest: nothing was trained. */
	rest: v.optional(v.literal(true)),
	/** "That was all training" and "that was all food" of this day; absent where nobody said, or it was said for every day. */
	allTraining: v.optional(v.boolean()),
	allFood: v.optional(v.boolean())
});

export type DayEntry = v.InferOutput<typeof dayEntrySchema>;
export type TrainingDay = v.InferOutput<typeof trainingDaySchema>;

/**
 * A day as it is kept under `day/<athlete>/<YYYY-MM-DD>`: its entries and ticks as registers, so that what two laptops
 * entered is joined entry by entry (`joined` in record/registers.ts). Registers that this page does not know are carried along.
 */
export type StoredDay = Registers;

export const dayKey = (athleteId: string, date: string) => `day/${athleteId}/${date}`;

const entryRegisters = 'entries/';
const ticks = ['rest', 'allTraining', 'allFood'] as const;
// Far beyond what a gym enters; whoever counts trainings compares each with each.
const mostRegisters = 300;

export const emptyDay: TrainingDay = { entries: [] };

function valuesOf(day: TrainingDay): Map<string, unknown> {
	const values = new Map<string, unknown>(day.entries.map((entry) => [entryRegisters + entry.id, entry]));
	for (const tick of ticks) if (day[tick] !== undefined) values.set(tick, day[tick]);
	return values;
}

/** The latest word on each entry and tick, entries in the order in which they were made. */
export function shownDay(stored: StoredDay): TrainingDay {
	const day: TrainingDay = { entries: [] };
	for (const [register, [said]] of Object.entries(stored))
		if (said?.value !== undefined && register.startsWith(entryRegisters))
			day.entries.push(said.value as DayEntry);
	for (const tick of ticks) {
		const value = stored[tick]?.[0]?.value;
		if (value !== undefined) Object.assign(day, { [tick]: value });
	}
	day.entries.sort((one, other) => (one.madeAt + one.id < other.madeAt + other.id ? -1 : 1));
	return day;
}

/** A day read back from storage or from a file. Everything said of it is checked, since any of it may come to be shown. */
export function checkedDay(stored: unknown): Checked<StoredDay> {
	const { value, problem } = check(registersSchema, stored);
	if (problem !== undefined) return { problem };
	const registers = Object.entries(value);
	if (registers.length > mostRegisters) return { problem: 'It holds more than a day can.' };
	for (const [register, all] of registers)
		for (const { value: told } of all) {
			if (told === undefined) continue;
			const isEntry = register.startsWith(entryRegisters);
			const day = isEntry ? { entries: [told] } : { entries: [], [register]: told };
			const { problem } = check(trainingDaySchema, day);
			if (problem !== undefined) return { problem };
			if (isEntry && (told as DayEntry).id !== register.slice(entryRegisters.length))
				return { problem: 'An entry of it lies under an id that is not its own.' };
		}
	return { value };
}

/**
 * A change by hand: what differs from `before` is said now, and what somebody else entered meanwhile stays.
 *
 * @param before what the change was made to
 * @param wanted the moment by this machine's clock, and its id
 */
export function changedDay(
	stored: StoredDay,
	before: TrainingDay,
	changed: TrainingDay,
	wanted: { ms: number; by: string }
): StoredDay {
	return changedRegisters(stored, valuesOf(before), valuesOf(changed), wanted);
}

/** The day with an entry added, or put in place of the one with its id. */
export function withEntry(day: TrainingDay, entry: DayEntry): TrainingDay {
	const others = day.entries.filter(({ id }) => id !== entry.id);
	const { rest: _, ...trained } = day;
	return { ...trained, entries: [...others, entry] };
}

/** The day without one of its entries. */
export const withoutEntry = (day: TrainingDay, id: string): TrainingDay => ({
	...day,
	entries: day.entries.filter((entry) => entry.id !== id)
});
