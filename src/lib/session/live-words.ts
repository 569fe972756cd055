import { clockWords, noBurstWords } from '$lib/review/words';
import type { LiveView } from './live-view';

/** Whether nobody knows when the phase ends, so that the clock counts up. */
const countsUp = ({ remainingMs }: Pick<LiveView, 'remainingMs'>) => remainingMs === Infinity;

/** The clock of the live screen: what is left, or what has run, in whole seconds gone by, where the gym's bell ends it. */
export function shownClock(view: Pick<LiveView, 'remainingMs' | 'ranMs'>): string {
	return clockWords(countsUp(view) ? Math.floor(view.ranMs / 1000 + 0.001) * 1000 : view.remainingMs);
}

/** What that clock is called. */
export function clockName(view: Pick<LiveView, 'remainingMs'>): string {
	return countsUp(view) ? 'Time gone' : 'Time left';
}

/** What a session to the gym's own bell has to say besides, where there is something. */
export function gymBellWords({
	followsGymBell,
	phase
}: Pick<LiveView, 'followsGymBell' | 'phase'>): string | undefined {
	if (!followsGymBell) return undefined;
	if (phase?.kind === 'get ready')
		return "At each bell of the hall press Bell, Space or the clicker's way on.";
	return phase?.kind === 'work' ? noBurstWords : undefined;
}
