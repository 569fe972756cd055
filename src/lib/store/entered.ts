import { valueAt } from './database';
import { after } from '$lib/record/stamp';

/** What the key of a stamp begins with; the rest is the key that it is of. */
export const stampPrefix = 'stamp/';

/**
 * Puts what somebody entered at a key, or takes it away, and notes when that was, so that nothing older takes its place.
 * In a transaction that runs.
 */
export async function enter(
	objects: IDBObjectStore,
	key: string,
	value: unknown,
	nowMs: number
): Promise<void> {
	await enterAsOf(objects, key, value, after((await enteredAt(objects, key)) ?? '', nowMs, value));
}

/** The same as it was entered somewhere, ISO 8601 in UTC; without a moment nobody knows when. */
export function enterAsOf(
	objects: IDBObjectStore,
	key: string,
	value: unknown,
	at: string | undefined
): void {
	if (value === undefined) objects.delete(key);
	else objects.put(value, key);
	if (at !== undefined) objects.put({ at }, stampPrefix + key);
}

/** When what lies at a key, or was taken away from it, was entered; undefined where nobody knows. */
export async function enteredAt(objects: IDBObjectStore, key: string): Promise<string | undefined> {
	return stampOf(await valueAt(objects, stampPrefix + key));
}

/** The moment in a stored stamp. */
export function stampOf(stored: unknown): string | undefined {
	const at = (stored as { at?: unknown } | undefined)?.at;
	return typeof at === 'string' && !Number.isNaN(Date.parse(at)) ? at : undefined;
}
