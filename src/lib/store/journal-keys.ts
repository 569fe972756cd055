import { promisifyRequest } from 'idb-keyval';
import { read, under, type UseStore } from './database';

const allJournals = 'journal/';

/** What the keys of a session's chunks begin with. */
export const journalPrefix = (sessionId: string) => `${allJournals}${sessionId}/`;

/**
 * Whether a session was started and neither finished nor discarded; one that is being written at this moment is
 * among them. Mostly there is none, and nothing that reads journals is needed then. Rejects with `StoreError`.
 */
export async function isAnyUnfinished(store: UseStore): Promise<boolean> {
	return (await read(store, (objects) => promisifyRequest(objects.count(under(allJournals))))) > 0;
}
