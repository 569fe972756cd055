/** Where a browser does not say when it has nothing to do, this long after the last thing is taken for it. */
const idleMs = 200;

/** Does what can wait once the browser has nothing else to do. */
export function whenIdle(act: () => void): void {
	// Absent in some browsers, whatever the types say.
	const { requestIdleCallback } = globalThis as Partial<typeof globalThis>;
	if (requestIdleCallback) requestIdleCallback(act);
	else setTimeout(act, idleMs);
}
