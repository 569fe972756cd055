import { dayOf } from '$lib/record/athlete-changes';
import type { SessionRecord } from '$lib/record/body';
import { asPutRight } from '$lib/record/put-right';
import { exerciseDays } from '$lib/review/fuel';
import { athleteIdOf, type KeptSession } from '$lib/review/progress';
import type { UseStore } from '$lib/store/database';
import { readSession } from '$lib/store/sessions';

/** The first day, YYYY-MM-DD, of those that what training costs is reckoned from. */
export const recentSince = () => dayOf(new Date(Date.now() - exerciseDays * 86_400_000));

/** An athlete's own sessions of those days. */
export function recentOf<Session extends KeptSession>(
	sessions: readonly Session[],
	athleteId: string
): Session[] {
	const since = recentSince();
	return sessions.filter(
		(one) =>
			!one.head.practice && athleteIdOf(one) === athleteId && dayOf(new Date(one.head.startedAt)) >= since
	);
}

/** The records of sessions, as put right. */
export async function recordsOf(store: UseStore, sessions: readonly KeptSession[]): Promise<SessionRecord[]> {
	const found = await Promise.all(sessions.map(({ head }) => readSession(store, head.id)));
	return found.flatMap((one) => (one.status === 'found' ? asPutRight(one.record, one.edit) : []));
}
