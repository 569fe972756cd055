import { wasStrapped, wornBy, type CornerSoFar } from './corner-so-far';
import type { GroupEntry, SessionStart } from './journal';
import { activityWords } from '$lib/rounds/blocks';

/** What an entry of a day takes; see `dayEntrySchema`. */
const longestActivity = 60;
const mostMinutes = 1440;

/**
 * Who never wore a strap in a session: an entry of the day for each, which names the group. Whoever left again within the
 * minute has none, and there is none of a session that simulated straps alone took part in.
 *
 * @param start absent where it is not known: then there is nobody
 * @param endedMs elapsed
 */
export function unstrapped(
	start: SessionStart | undefined,
	corners: ReadonlyMap<number, CornerSoFar>,
	endedMs: number
): GroupEntry[] {
	const all = [...corners.values()];
	const isReal = all.some((corner) => wasStrapped(corner) && !wornBy(corner).practice);
	if (!start || !isReal) return [];
	const words = activityWords(start.plan);
	return all.flatMap((corner): GroupEntry[] => {
		const { entrant, joinedMs = 0, leftMs = Infinity } = corner;
		const thereMs = Math.min(endedMs, leftMs) - joinedMs;
		if (wasStrapped(corner) || thereMs < 60_000) return [];
		return [
			{
				athleteId: entrant.athlete.athleteId,
				startedAt: start.startedAt,
				entry: {
					id: entrant.recordId,
					activity: words.length > longestActivity ? start.plan.activity : words,
					minutes: Math.min(Math.round(thereMs / 60_000), mostMinutes),
					madeAt: start.startedAt,
					groupId: start.sessionId
				}
			}
		];
	});
}
