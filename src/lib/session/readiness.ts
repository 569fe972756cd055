import type { Stage } from './live-session.svelte';
import type { SeatView } from './strap-choice.svelte';

/** What keeps any session from being started at this moment, in a sentence for the page; mostly nothing. */
export function whyNotReady(
	isRecordingElsewhere: boolean,
	stage: Stage,
	seat: Pick<SeatView, 'state'> | undefined
): string | undefined {
	if (isRecordingElsewhere) return 'Another tab is recording. One at a time.';
	if (stage === 'running') return 'A session is running: see Live.';
	if (!seat) return 'Pair a strap, or take the practice strap.';
	return seat.state === 'connected' ? undefined : 'The strap is not connected yet.';
}
