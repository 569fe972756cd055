import { lengthS } from './phase-times';
import type { KeptSession } from './progress';
import { clockWords } from './clock-words';

/** Recoveries whose time constants may be compared, and what was left out for that. */
export interface OneLength {
	sessions: KeptSession[];
	/** Whole seconds from the bell; absent where there is no recovery with a time constant. */
	recoveryS?: number;
	/** How many of another length were left out. */
	leftOut: number;
}

/**
 * The longer a recovery is looked at, the longer its time constant comes out (see `fitRecovery`), so it is compared
 * between recoveries of one length alone: that of the latest.
 *
 * @param sessions oldest first
 */
export function inOneLength(sessions: readonly KeptSession[]): OneLength {
	const checks = sessions.flatMap((session) => {
		const { guided, rounds = [] } = session.summary ?? {};
		const rest = rounds.findLast((round) => round.rest?.kind === 'closing')?.rest;
		return guided?.tauS === undefined || !rest ? [] : { session, recoveryS: lengthS(rest) };
	});
	const recoveryS = checks.at(-1)?.recoveryS;
	const kept = checks.filter((check) => check.recoveryS === recoveryS).map(({ session }) => session);
	return { sessions: kept, recoveryS, leftOut: checks.length - kept.length };
}

/** The unit of what is compared within one length, with that length and what was left out for it. */
export function inLengthWords(unit: string, { recoveryS, leftOut }: OneLength): string {
	if (recoveryS === undefined) return unit;
	return `${unit}, over ${clockWords(recoveryS * 1000)}${leftOut > 0 ? `; ${leftOut} over another time left out` : ''}`;
}
