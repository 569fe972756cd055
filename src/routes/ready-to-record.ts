import type { getApp } from './context';

/**
 * What Start does first: all that a session needs is fetched, the sound is woken, and this tab becomes the one that
 * records.
 *
 * @param missing what Start waits for, if anything: asked again at the end, for a strap may have gone meanwhile
 */
export async function readyToRecord(
	{ live, tabs }: Pick<ReturnType<typeof getApp>, 'live' | 'tabs'>,
	missing: () => string | undefined
): Promise<'ready' | 'not fetched' | 'not ready'> {
	try {
		await live.wake();
	} catch {
		return 'not fetched';
	}
	if (!(await tabs.take())) return 'not ready';
	if (missing() === undefined) return 'ready';
	tabs.giveBack();
	return 'not ready';
}
