import { StoreError } from './database';

/** Something that lies here or was to be put here is unsound. A store that fails has another cause, and may not the next time. */
export const isDamage = (error: unknown): error is StoreError =>
	error instanceof StoreError && error.code === 'failed' && error.cause === undefined;

/** What is read, and something else where it is damaged. Rejects where the store fails. */
export async function unlessDamaged<T>(reading: Promise<T>, instead: T): Promise<T> {
	try {
		return await reading;
	} catch (error) {
		if (isDamage(error)) return instead;
		throw error;
	}
}
