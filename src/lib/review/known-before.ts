import type { EarlierRest } from '$lib/physiology/drop-beliefs';
import type { Usual } from '$lib/physiology/usual';
import { activitiesOf, blocksOf } from '$lib/rounds/blocks';
import type { Activity, Plan } from '$lib/rounds/plan';
import { usualDrop } from './like-words';
import {
	activityOf,
	countedRests,
	countedSessions,
	inParts,
	likeSessions,
	type KeptSession
} from './progress';

/** What an athlete's sessions before this one tell of its rests. */
export interface KnownBefore {
	/** From five like sessions on. */
	usual?: Usual;
	/** The judged rests of those like sessions. */
	rests: readonly EarlierRest[];
}

/** Own rule: hearts change over months, so the newest like sessions are enough. */
const mostLike = 20;
/** Of how many sessions those are looked for, at most: other work and measurements lie between them. */
export const mostLookedAt = 60;

/**
 * What is known of an athlete when a session of this plan begins: from the newest sessions of its kind and activity,
 * in the posture of the plan, or of the newest of them where the plan names none.
 *
 * @param sessions of the athlete, as listed, in any order; no readings are needed
 */
export function knownBefore(
	sessions: readonly KeptSession[],
	athleteId: string,
	{ kind, activity, posture }: Pick<Plan, 'kind' | 'activity' | 'posture'>
): KnownBefore {
	const ofWork = countedSessions(sessions, { athleteId })
		.flatMap(inParts)
		.filter(
			(session) =>
				session.head.plan.kind === kind &&
				activityOf(session) === activity &&
				(posture === undefined || (session.edit.posture ?? session.head.plan.posture) === posture)
		);
	const like = likeSessions(ofWork).slice(-mostLike);
	const rests = like.flatMap((session) =>
		countedRests(session).map(({ bellBpm, drop60 }) => ({ bellBpm, drop60 }))
	);
	return { usual: usualDrop(like), rests };
}

/** The same of each activity: what falls after the bag says nothing of what falls after the rope. */
export type BeforeByActivity = Partial<Record<Activity, KnownBefore>>;

/** What is known of an athlete when a session of this plan begins, of each of its activities. */
export function knownBeforeOf(
	sessions: readonly KeptSession[],
	athleteId: string,
	plan: Plan
): BeforeByActivity {
	return Object.fromEntries(
		activitiesOf(blocksOf(plan)).map((activity) => [
			activity,
			knownBefore(sessions, athleteId, { ...plan, activity })
		])
	);
}
