/**
 * Keeps the screen on while the element is shown. The browser takes the lock away whenever the page is
 * hidden, so it is asked for again on every return; where it is refused (low battery, no such API) the
 * screen sleeps as always, and the session goes on.
 */
export function keepScreenOn(element: HTMLElement): () => void {
	const { ownerDocument } = element;
	const { wakeLock } = navigator as Partial<Pick<Navigator, 'wakeLock'>>;
	let lock: WakeLockSentinel | undefined;
	let isGone = false;
	async function ask() {
		if (ownerDocument.visibilityState !== 'visible' || !wakeLock) return;
		const asked = await wakeLock.request('screen').catch(() => undefined);
		if (isGone) void asked?.release();
		else lock = asked;
	}
	void ask();
	ownerDocument.addEventListener('visibilitychange', ask);
	return () => {
		isGone = true;
		ownerDocument.removeEventListener('visibilitychange', ask);
		void lock?.release();
	};
}
