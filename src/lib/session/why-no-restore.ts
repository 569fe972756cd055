import type { Stage } from './live-session.svelte';
import type { Tabs } from './tabs.svelte';

/** What keeps a backup from being restored at this moment, with what to do, in sentences; mostly nothing. */
export function whyNoRestore(
	{ isRecordingElsewhere, isRestoring }: Pick<Tabs, 'isRecordingElsewhere' | 'isRestoring'>,
	stage: Stage
): string | undefined {
	if (isRecordingElsewhere) return 'Another tab is recording. Finish the session there, then restore.';
	if (isRestoring) return 'A backup is being restored already. Wait until that is done.';
	if (stage === 'running') return 'Finish the session that runs, then restore.';
	if (stage === 'saving' || stage === 'not kept')
		return 'The last session is not kept yet: see Live. Keep it or leave it there, then restore.';
	return undefined;
}
