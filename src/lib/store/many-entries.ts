import { promisifyRequest } from 'idb-keyval';
import { under } from './database';
import { grouped } from '$lib/record/grouped';

/** Entries that may be asked for together without holding the page. */
export const fewAtATime = 200;

/**
 * Hands on what begins with a prefix, in order of the keys, a few at a time: thousands of entries at once would
 * hold the page for as long as they take to be read.
 */
export async function eachUnder(
	objects: IDBObjectStore,
	prefix: string,
	take: (key: string, value: unknown) => void
): Promise<void> {
	let range = under(prefix);
	for (;;) {
		const [keys, values] = await Promise.all([
			promisifyRequest(objects.getAllKeys(range, fewAtATime)),
			promisifyRequest<unknown[]>(objects.getAll(range, fewAtATime))
		]);
		keys.forEach((key, i) => take(String(key), values[i]));
		if (keys.length < fewAtATime) return;
		range = IDBKeyRange.bound(keys.at(-1), range.upper, true);
	}
}

/** Entries by the id in their keys (`<kind>/<id>` or `<kind>/<id>/<more>`), each group in order of its keys. */
export const groupById = (entries: readonly [string, unknown][]) =>
	grouped(entries, ([key]) => key.split('/')[1] ?? '');
