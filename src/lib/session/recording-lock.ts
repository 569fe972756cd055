/**
 * The one door to Web Locks: whoever holds this lock records, in whichever tab. The browser frees it by itself
 * when a tab is closed or crashes. Where there are no Web Locks everybody may record.
 */
const name = 'corner-minute-recording';

export const browserLocks = () => (globalThis.navigator as Partial<Navigator> | undefined)?.locks;

/** Takes the lock if it is free. Answers what gives it back, or undefined where another holds it. */
export function takeRecordingLock(locks = browserLocks()): Promise<(() => void) | undefined> {
	const giveNothing = () => {};
	if (!locks) return Promise.resolve(giveNothing);
	return new Promise((answer) => {
		locks
			.request(name, { ifAvailable: true }, (lock) => {
				if (lock) return new Promise<void>((giveBack) => answer(giveBack));
				answer(undefined);
				return undefined;
			})
			// A browser that refuses Web Locks altogether (an opaque origin) is one without them.
			.catch(() => answer(giveNothing));
	});
}

/** Whether the lock is held, by this tab or another. */
export async function isRecordingLocked(locks = browserLocks()): Promise<boolean> {
	const state = await locks?.query().catch(() => undefined);
	return state?.held?.some((held) => held.name === name) ?? false;
}

/** Resolves once nobody holds the lock. */
export async function recordingUnlocked(locks = browserLocks()): Promise<void> {
	// Shared, so that any number of tabs can wait, and given back at once.
	await locks?.request(name, { mode: 'shared' }, () => undefined);
}
