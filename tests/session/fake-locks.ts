/** Web Locks as far as the page uses them: requests of a name are granted in order (W3C Web Locks, 4.1). */
export function fakeLocks(): LockManager {
	const held = new Set<LockInfo>();
	const waiting: (() => void)[] = [];
	const isFree = (name: string, mode: LockMode) =>
		![...held].some((one) => one.name === name && (mode === 'exclusive' || one.mode === 'exclusive'));
	const request = async (
		name: string,
		{ ifAvailable = false, mode = 'exclusive' }: LockOptions,
		act: (lock: object | null) => unknown
	) => {
		if (ifAvailable && !isFree(name, mode)) return act(null);
		while (!isFree(name, mode)) await new Promise<void>((resolve) => waiting.push(resolve));
		const lock = { name, mode };
		held.add(lock);
		try {
			return await act(lock);
		} finally {
			held.delete(lock);
			for (const go of waiting.splice(0)) go();
		}
	};
	const query = async () => ({ held: [...held], pending: [] });
	return { request, query } as unknown as LockManager;
}
