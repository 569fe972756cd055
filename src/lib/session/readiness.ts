import type { Plan } from '$lib/rounds/plan';
import { blockedBy } from '$lib/record/way-back';
import type { Stage } from './live-session.svelte';
import type { Athlete } from '$lib/record/athlete';
import type { SeatView } from './seat';
import type { Tabs } from './tabs.svelte';

/** What keeps any session from being started at this moment, in a sentence for the page; mostly nothing. */
export function whyNotReady(
	{ isRecordingElsewhere, isRestoring }: Pick<Tabs, 'isRecordingElsewhere' | 'isRestoring'>,
	stage: Stage,
	seat: Pick<SeatView, 'state'> | undefined
): string | undefined {
	if (isRecordingElsewhere) return 'Another tab is recording. One at a time.';
	if (isRestoring) return 'A backup is being restored. Wait until that is done.';
	if (stage === 'running') return 'A session is running: go back to it first.';
	if (stage === 'saving' || stage === 'not kept')
		return 'The last session is not kept yet: go back to it first.';
	if (!seat) return 'Pair a strap, or use the simulated strap.';
	return seat.state === 'connected' ? undefined : 'The strap is not connected yet.';
}

/**
 * What keeps a session of several corners from being started: the first thing that is missing, with the number of
 * its corner where there are several.
 *
 * @param today YYYY-MM-DD
 */
export function whyCornersNotReady(
	corners: readonly {
		athlete: Athlete | undefined;
		seat: Pick<SeatView, 'state'> | undefined;
		isBare: boolean;
	}[],
	plan: Plan,
	today: string
): string | undefined {
	for (const [i, { athlete, seat, isBare }] of corners.entries()) {
		const double = corners.slice(0, i).some((before) => athlete && before.athlete?.id === athlete.id);
		const missing = !athlete
			? 'choose who boxes there.'
			: double
				? `${athlete.name} is in another row already.`
				: !seat && !isBare
					? 'pair a strap, or use the simulated strap.'
					: seat && seat.state !== 'connected'
						? 'the strap is not connected yet.'
						: blockedBy(athlete, plan, today);
		if (missing) return corners.length > 1 ? `Boxer ${i + 1}: ${missing}` : missing;
	}
	return undefined;
}

/** What keeps a backup from being restored at this moment, with what to do, in sentences; mostly nothing. */
export function whyNoRestore(
	{ isRecordingElsewhere, isRestoring }: Pick<Tabs, 'isRecordingElsewhere' | 'isRestoring'>,
	stage: Stage
): string | undefined {
	if (isRecordingElsewhere) return 'Another tab is recording. Finish the session there, then restore.';
	if (isRestoring) return 'A backup is being restored already. Wait until that is done.';
	if (stage === 'running') return 'Finish the session that runs, then restore.';
	if (stage === 'saving' || stage === 'not kept')
		return 'The last session is not kept yet. Save it or leave it on its own screen, then restore.';
	return undefined;
}
