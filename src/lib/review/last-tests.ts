import type { PlanKind } from '$lib/rounds/plan';
import { dayWords } from './day-words';
import type { KeptSession } from './progress';
import { beats } from './beats';

/**
 * What each guided measurement of an athlete came to the last time, in words: "20-minute mean 171, Thu 26 Nov". A
 * kind that was never measured, or of which nothing could be told, is absent; simulated hearts stay out.
 *
 * @param sessions of one athlete, newest first
 */
export function lastTestsOf(sessions: readonly KeptSession[]): Partial<Record<PlanKind, string>> {
	const last: Partial<Record<PlanKind, string>> = {};
	for (const { head, edit, summary } of sessions) {
		const { kind } = head.plan;
		if (!kind || (head.practice && !head.example) || last[kind] !== undefined) continue;
		const words = resultWords(kind, summary, edit.posture);
		if (words !== undefined) last[kind] = `${words}, ${dayWords(head.startedAt, { zone: head.zone })}`;
	}
	return last;
}

function resultWords(
	kind: PlanKind,
	summary: KeptSession['summary'],
	putRight: string | undefined
): string | undefined {
	const { meanBpm, restBpm, posture } = summary?.guided ?? {};
	switch (kind) {
		case 'threshold run':
			return meanBpm === undefined ? undefined : `20-minute mean ${beats(meanBpm)}`;
		case 'resting':
			return restBpm === undefined
				? undefined
				: `${beats(restBpm)}, ${putRight ?? posture ?? 'posture not noted'}`;
		case 'recovery check': {
			const drop = summary?.rounds.findLast(({ rest }) => rest?.kind === 'closing')?.rest?.drop60;
			return drop === undefined ? undefined : `drop of ${beats(drop)} in the last rest`;
		}
	}
}
