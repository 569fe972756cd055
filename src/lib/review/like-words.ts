import { changeOver, spreadOf } from '$lib/physiology/change';
import { differenceSentence } from '$lib/physiology/change-words';
import { usualOf, type Usual } from '$lib/physiology/usual';
import { yardsticks } from '$lib/physiology/yardstick';
import {
	areAlike,
	countedDrop,
	countedRests,
	hasDrops,
	likenessOf,
	likeSessions,
	progressOf,
	type KeptSession
} from './progress';
import { daysOf } from './change-in-words';

/** The unit of what is compared like with like, with what it is of and how much was left out for it. */
export function likeWords(unit: string, sessions: readonly KeptSession[]): string {
	const like = likeSessions(sessions);
	const [kind, activity, posture] = like[0] ? likenessOf(like[0]) : [];
	const others = sessions.filter((session) => hasDrops(session) && countedDrop(session)).length - like.length;
	const of = [kind ?? activity, posture].filter((part) => part !== undefined).join(', ');
	const leftOut =
		others > 0 ? `; ${others} session${others === 1 ? '' : 's'} with other work or posture left out` : '';
	return of ? `${unit}, ${of}${leftOut}` : unit;
}

/** The athlete's own usual drop, from five sessions like the given one, or like the latest. */
export function usualDrop(sessions: readonly KeptSession[], given?: KeptSession): Usual | undefined {
	return usualOf(
		likeSessions(sessions, given).map((session) =>
			countedRests(session).flatMap(({ drop60 }) => drop60 ?? [])
		)
	);
}

/**
 * What may be said of two sessions side by side, by the same judgement as of all of them together.
 *
 * @param sessions all of the athlete's that count: from five like ones on their own spread is the error
 */
export function twoSessionsWords(
	one: KeptSession,
	other: KeptSession,
	sessions: readonly KeptSession[]
): string {
	if (one.head.id === other.head.id) return 'Choose two different sessions.';
	const pair = [one, other].flatMap((session, i) => {
		const drop = countedDrop(session);
		return drop ? { day: `${i}`, ...drop } : [];
	});
	if (pair.length < 2) return 'One of the two has no judged rest, so nothing is compared.';
	if (!areAlike(one, other))
		return 'The work or the posture in the rests differs. Only like sessions are compared, so no change is told.';
	const spread = spreadOf(daysOf(progressOf(likeSessions(sessions, one), 'drop at 60')), yardsticks.drop);
	const change = changeOver(pair, { ...yardsticks.drop, leastDays: 2 }, spread);
	return differenceSentence(change, 'drops', yardsticks.drop.unit);
}
