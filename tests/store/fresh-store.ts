import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { promisifyRequest } from 'idb-keyval';
import { openDatabase, type UseStore } from '$lib/store/database';

/** The real storage code over an empty database in memory. */
export function freshStore(): UseStore {
	globalThis.indexedDB = new IDBFactory();
	return openDatabase();
}

/** Puts a value in past every check, as damage or another version of the page would. */
export async function plant(store: UseStore, key: string, value: unknown): Promise<void> {
	await store('readwrite', (objects) => promisifyRequest(objects.put(value, key)));
}

/** The keys of all that is kept; a cache is no part of it. */
export async function allKeys(store: UseStore): Promise<string[]> {
	return (await keysWithCaches(store)).filter((key) => !key.startsWith('here-'));
}

export async function keysWithCaches(store: UseStore): Promise<string[]> {
	return (await store('readonly', (objects) => promisifyRequest(objects.getAllKeys()))).map(String);
}

export function valueOf(store: UseStore, key: string): Promise<unknown> {
	return store('readonly', (objects) => promisifyRequest<unknown>(objects.get(key)));
}

/** Everything that lies in a store, in order of the keys. */
export async function contents(store: UseStore): Promise<[string, unknown][]> {
	const keys = await allKeys(store);
	return Promise.all(keys.map(async (key): Promise<[string, unknown]> => [key, await valueOf(store, key)]));
}
