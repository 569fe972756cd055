import { download } from '$lib/components/frame/download';
import { rawText } from '$lib/store/backup/backup';
import type { UseStore } from '$lib/store/database';

/** Hands on an entry that cannot be read, as it lies in the store. Answers why it was not done. */
export async function exportRaw(store: UseStore, key: string): Promise<string | undefined> {
	try {
		download(`${key.replaceAll(/[^\w-]+/g, '-')}.raw.json`, 'application/json', await rawText(store, key));
		return undefined;
	} catch {
		return 'This browser could not read the entry, so it was not exported.';
	}
}
