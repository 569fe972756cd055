import { changeOver, spreadOf } from '$lib/physiology/change';
import { yardsticks } from '$lib/physiology/yardstick';
import { inOneLength } from './one-length';
import { progressOf, type KeptSession } from './progress';
import { daysOf } from './change-in-words';
import { beats } from './beats';

/** The recovery check before one, as its review shows it beside it. */
export interface PreviousCheck {
	id: string;
	/** ISO 8601, and the zone it stands in. */
	startedAt: string;
	zone: string;
	/** Whole seconds. */
	tauS: number;
	/** Whole beats, in order of the rounds. */
	drops: number[];
	/** What may be said of the two, in a sentence. */
	words: string;
}

/**
 * The athlete's last check before the given one; undefined where there is none, and for any other session.
 *
 * @param sessions of the athlete that count, oldest first, without the given one
 */
export function previousCheckOf(
	sessions: readonly KeptSession[],
	given: KeptSession
): PreviousCheck | undefined {
	const { head, summary } = given;
	if (summary?.guided?.kind !== 'recovery check' || (head.practice && !head.example)) return undefined;
	const before = sessions.filter((one) => one.head.startedAt < head.startedAt);
	const last = before.findLast(
		(one) => one.summary?.guided?.kind === 'recovery check' && tauOf(one) !== undefined
	);
	const tauS = last && tauOf(last);
	if (!last || tauS === undefined) return undefined;
	return {
		id: last.head.id,
		startedAt: last.head.startedAt,
		zone: last.head.zone,
		tauS: Math.round(tauS),
		drops: (last.summary?.rounds ?? []).flatMap(({ rest }) =>
			rest?.drop60 === undefined ? [] : [beats(rest.drop60)]
		),
		words: comparedWords(last, given, before)
	};
}

const tauOf = ({ summary }: KeptSession) => summary?.guided?.tauS;

function comparedWords(last: KeptSession, given: KeptSession, before: readonly KeptSession[]): string {
	if (tauOf(given) === undefined) return 'This check has no recovery speed, so nothing is compared.';
	const pair = inOneLength([last, given]).sessions;
	if (pair.length < 2) return 'The still minutes lasted differently, so nothing is compared.';
	const like = inOneLength([...before, given]).sessions;
	const spread = spreadOf(daysOf(progressOf(like, 'tau')), yardsticks.tau);
	const days = pair.map((one, i) => ({ day: `${i}`, value: tauOf(one)!, count: 1 }));
	const { kind } = changeOver(days, { ...yardsticks.tau, leastDays: 2 }, spread);
	if (kind === 'lower') return 'Faster than then, by more than the measurement error.';
	if (kind === 'higher') return 'Slower than then, by more than the measurement error.';
	return 'No clear change: the two differ by no more than the measurement error.';
}
