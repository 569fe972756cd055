import { summaryOf } from '$lib/session/summary';
import type { UseStore } from '$lib/store/database';
import { readSession, saveSummary, type ListedSession } from '$lib/store/sessions';

/**
 * A summary is a cache: what was made by other methods is made anew, once. Answers whether any was. `onShare` is
 * told how far it is (0 to 1) before each, and ends it by answering `false`; what is done by then stays.
 */
export async function fillSummaries(
	store: UseStore,
	sessions: readonly ListedSession[],
	onShare: (share: number) => boolean
): Promise<boolean> {
	const stale = sessions.filter(({ summary }) => !summary);
	for (const [i, { head }] of stale.entries()) {
		if (!onShare(i / stale.length)) return true;
		const found = await readSession(store, head.id);
		if (found.status === 'found') await saveSummary(store, head.id, summaryOf(found.record));
	}
	return stale.length > 0;
}
