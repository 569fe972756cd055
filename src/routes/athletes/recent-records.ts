import { dayOf } from '$lib/record/athlete-changes';
import type { SessionRecord } from '$lib/record/body';
import { asPutRight } from '$lib/record/put-right';
import { athleteIdOf, type KeptSession } from '$lib/review/progress';
import type { UseStore } from '$lib/store/database';
import { readSession } from '$lib/store/sessions';

const recentMs = 28 * 86_400_000;

/** An athlete's own sessions of the last four weeks as put right, which what training costs is reckoned from. */
export async function recentRecordsOf(
	store: UseStore,
	sessions: readonly KeptSession[],
	athleteId: string
): Promise<SessionRecord[]> {
	const since = dayOf(new Date(Date.now() - recentMs));
	const own = sessions.filter(
		(one) =>
			!one.head.practice && athleteIdOf(one) === athleteId && dayOf(new Date(one.head.startedAt)) >= since
	);
	const found = await Promise.all(own.map(({ head }) => readSession(store, head.id)));
	return found.flatMap((one) => (one.status === 'found' ? asPutRight(one.record, one.edit) : []));
}
