import type { getApp } from './context';

/**
 * What Start does first: all that a session needs is fetched, the sound is woken, and this tab becomes the one that
 * records.
 */
export async function readyToRecord({
	live,
	tabs
}: Pick<ReturnType<typeof getApp>, 'live' | 'tabs'>): Promise<
	'ready' | 'not fetched' | 'recorded elsewhere'
> {
	try {
		await live.wake();
	} catch {
		return 'not fetched';
	}
	return (await tabs.take()) ? 'ready' : 'recorded elsewhere';
}
