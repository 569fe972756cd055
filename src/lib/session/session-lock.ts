/**
 * The one door to Web Locks: whoever holds this lock records, in whichever tab. The browser frees it by itself
 * when a tab is closed or crashes. Where there are no Web Locks everybody may record.
 */
const name = 'corner-minute-recording';
/** Stands beside it where it is held for a restore, so that other tabs can say what they wait for. */
const restoringSign = 'corner-minute-restoring';

export const browserLocks = () => (globalThis.navigator as Partial<Navigator> | undefined)?.locks;

/** Takes the lock if it is free. Answers what gives it back, or undefined where another holds it. */
export function takeSessionLock(locks: LockManager | undefined): Promise<(() => void) | undefined> {
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

/** Takes the lock for a restore, beside which nobody may record. Answers as `takeSessionLock` does. */
export async function takeLockToRestore(locks: LockManager | undefined): Promise<(() => void) | undefined> {
	// The sign first: whoever finds the lock taken finds it, too.
	const takeDown = await new Promise<() => void>((answer) => {
		const giveNothing = () => {};
		if (!locks) return answer(giveNothing);
		locks
			.request(restoringSign, { mode: 'shared' }, () => new Promise<void>((giveBack) => answer(giveBack)))
			.catch(() => answer(giveNothing));
	});
	const giveBack = await takeSessionLock(locks);
	if (giveBack)
		return () => {
			giveBack();
			takeDown();
		};
	takeDown();
	return undefined;
}

/** What the lock is held for, by this tab or another; undefined where it is free. */
export async function lockHeldFor(
	locks: LockManager | undefined
): Promise<'recording' | 'restoring' | undefined> {
	const { held = [] } = (await locks?.query().catch(() => undefined)) ?? {};
	const lock = held.find((one) => one.name === name);
	if (!lock) return undefined;
	// A tab that was refused the lock may have its sign still up.
	const isSigned = held.some((one) => one.name === restoringSign && one.clientId === lock.clientId);
	return isSigned ? 'restoring' : 'recording';
}

/** Resolves once nobody holds the lock. */
export async function sessionUnlocked(locks: LockManager | undefined): Promise<void> {
	// Shared, so that any number of tabs can wait, and given back at once.
	await locks?.request(name, { mode: 'shared' }, () => undefined);
}
