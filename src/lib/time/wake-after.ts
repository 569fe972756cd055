// Chromium wakes the timers of a hidden page once a second, and once a minute when it has been hidden for five. Those of
// a dedicated worker go on, and its messages are no timers: so each delay is asked of both, and whichever comes first
// counts. The page's own is there wherever a worker is refused.
const workerText = 'onmessage = ({ data: [id, ms] }) => setTimeout(postMessage, ms, id)';

/** Made once, with the first delay; `null` where there is no such thing (prerendering, tests) or it is refused. */
let worker: Worker | null | undefined;
const waiting = new Map<number, () => void>();
let nextId = 0;

/** Calls `wake` once, after `delayMs` (0 to 2^31 - 1), be the page in front or hidden. The answer cancels. */
export function wakeAfter(delayMs: number, wake: () => void): () => void {
	const id = nextId++;
	const cancel = () => {
		clearTimeout(handle);
		waiting.delete(id);
	};
	const once = () => {
		cancel();
		wake();
	};
	const handle = setTimeout(once, delayMs);
	if (worker === undefined) worker = makeWorker();
	if (worker) {
		waiting.set(id, once);
		worker.postMessage([id, delayMs]);
	}
	return cancel;
}

function makeWorker(): Worker | null {
	if (typeof Worker === 'undefined') return null;
	// In the bundle and no file of its own: after an update an old window could not fetch that any more.
	const url = URL.createObjectURL(new Blob([workerText], { type: 'text/javascript' }));
	try {
		const made = new Worker(url);
		made.addEventListener('message', ({ data }: MessageEvent<number>) => waiting.get(data)?.());
		return made;
	} catch {
		return null;
	} finally {
		URL.revokeObjectURL(url);
	}
}
