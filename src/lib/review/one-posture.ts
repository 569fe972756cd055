import type { Posture } from '$lib/rounds/plan';
import type { KeptSession } from './progress';

/** Resting measurements that may be compared, and what was left out for that. */
export interface OnePosture {
	sessions: KeptSession[];
	posture?: Posture;
	/** How many in another posture were left out. */
	leftOut: number;
}

/**
 * Resting rate and RMSSD differ between lying and sitting, so they are compared within one posture alone: that of
 * the latest measurement.
 *
 * @param sessions oldest first
 */
export function inOnePosture(sessions: readonly KeptSession[]): OnePosture {
	const postureOf = ({ summary }: KeptSession) => summary?.guided?.posture;
	const resting = sessions.filter(({ summary }) => summary?.guided?.kind === 'resting');
	const posture = resting.at(-1) && postureOf(resting.at(-1)!);
	const kept = resting.filter((session) => postureOf(session) === posture);
	return { sessions: kept, posture, leftOut: resting.length - kept.length };
}

/** The unit of what is compared within one posture, with that posture and what was left out for it. */
export function inPostureWords(unit: string, { posture, leftOut }: OnePosture): string {
	if (!posture) return unit;
	return `${unit}, ${posture}${leftOut > 0 ? `; ${leftOut} in another posture left out` : ''}`;
}
