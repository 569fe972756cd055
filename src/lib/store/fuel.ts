import type { GenericSchema } from 'valibot';
import { entriesUnder, keysUnder, read, storable, under, valueAt, write } from './database';
import type { Unreadable, UseStore } from './database';
import { enter, enterAsOf, enteredAt, stampPrefix } from './entered';
import { goalSchema, kcalSchema, kgSchema, type WeightGoal } from '$lib/record/fuel';
import { check, daySchema } from '$lib/record/check';

/** What one athlete logged, by day (YYYY-MM-DD). A day that is absent is unknown. */
export interface FuelLog {
	weightKg: Record<string, number>;
	intakeKcal: Record<string, number>;
	goal?: WeightGoal;
	unreadable: Unreadable[];
}

const schemas = { weight: kgSchema, intake: kcalSchema };

const kinds = ['weight', 'intake', 'goal'];

/** Everything an athlete logged. What cannot be read is named and stays. Rejects with `StoreError`. */
export async function readFuelLog(store: UseStore, athleteId: string): Promise<FuelLog> {
	const log: FuelLog = { weightKg: {}, intakeKcal: {}, unreadable: [] };
	const groups = await read(store, (objects) =>
		Promise.all(kinds.map((kind) => entriesUnder(objects, `${kind}/${athleteId}/`)))
	);
	const [weights = [], intakes = [], goals = []] = groups;
	const take = <T>(
		entries: [string, unknown][],
		schema: GenericSchema<unknown, T>,
		keep: (date: string, value: T) => void
	) => {
		for (const [key, stored] of entries) {
			const { value, problem } = check(schema, stored);
			if (problem === undefined) keep(key.split('/')[2] ?? '', value);
			else log.unreadable.push({ key, problem });
		}
	};
	take(weights, kgSchema, (date, kg) => (log.weightKg[date] = kg));
	take(intakes, kcalSchema, (date, kcal) => (log.intakeKcal[date] = kcal));
	take(goals, goalSchema, (_, goal) => (log.goal = goal));
	return log;
}

/** The days of some athletes' goals (YYYY-MM-DD), by athlete. Rejects with `StoreError`. */
export async function readGoalDates(
	store: UseStore,
	athleteIds: readonly string[]
): Promise<Map<string, string>> {
	// Few have one, so that all of them at once cost less than a question for each athlete.
	const goals = new Map(await read(store, (objects) => entriesUnder(objects, 'goal/')));
	return new Map(
		athleteIds.flatMap((id) => {
			const { value } = check(goalSchema, goals.get(`goal/${id}/weight`));
			return value ? [[id, value.date] as const] : [];
		})
	);
}

/**
 * Keeps a day's weight (kg, 20 to 250) or intake (kcal, 0 to 20 000) in place of the earlier one; undefined
 * makes the day unknown again. Rejects with `StoreError`.
 */
export async function logFuel(
	store: UseStore,
	kind: 'weight' | 'intake',
	athleteId: string,
	date: string,
	amount: number | undefined
): Promise<void> {
	const key = `${kind}/${athleteId}/${storable(daySchema, date, 'The day')}`;
	const stored = amount === undefined ? undefined : storable(schemas[kind], amount, `The ${kind}`);
	await write(store, (objects) => enter(objects, key, stored, Date.now()));
}

/** Keeps the goal, or drops it. Rejects with `StoreError`. */
export async function saveGoal(store: UseStore, athleteId: string, goal?: WeightGoal): Promise<void> {
	const key = `goal/${athleteId}/weight`;
	const stored = goal && storable(goalSchema, goal, 'The goal');
	await write(store, (objects) => enter(objects, key, stored, Date.now()));
}

/** Removes for good all that an athlete logged, in a transaction that runs. */
export function removeFuel(objects: IDBObjectStore, athleteId: string): void {
	for (const kind of kinds)
		for (const prefix of ['', stampPrefix]) objects.delete(under(`${prefix}${kind}/${athleteId}/`));
}

/** Gives what was logged for a card to another one, as far as those days are unknown there; in a transaction that runs. */
export async function moveFuel(objects: IDBObjectStore, fromId: string, toId: string): Promise<void> {
	for (const kind of kinds)
		for (const key of await keysUnder(objects, `${kind}/${fromId}/`)) {
			const target = `${kind}/${toId}/${key.split('/')[2]}`;
			const isKnown = (await valueAt(objects, target)) !== undefined;
			if (!isKnown)
				await enterAsOf(objects, target, await valueAt(objects, key), await enteredAt(objects, key));
		}
	removeFuel(objects, fromId);
}
