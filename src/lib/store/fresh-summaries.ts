import type { SummariesMessage } from './summaries-worker';

/** Sessions being measured afresh in the background. */
export interface FreshSummaries {
	/** Resolves with true once all are done, with false where it was stopped; rejects where the store failed. */
	finished: Promise<boolean>;
	/** Ends it at once; what was done so far stays. */
	stop(): void;
}

/**
 * Measures these sessions by the present methods and keeps their summaries, in a worker, so that the page stays
 * usable meanwhile.
 *
 * @param onProgress told now and then how many are done
 */
export function measureAfresh(ids: readonly string[], onProgress: (done: number) => void): FreshSummaries {
	let stop = () => {};
	const stopped = new Promise<boolean>((resolve) => (stop = () => resolve(false)));
	return { finished: measured(ids, onProgress, stopped), stop };
}

async function measured(
	ids: readonly string[],
	onProgress: (done: number) => void,
	stopped: Promise<boolean>
): Promise<boolean> {
	const worker = new Worker(new URL('./summaries-worker.ts', import.meta.url), { type: 'module' });
	const done = new Promise<boolean>((resolve, reject) => {
		worker.onmessage = ({ data }: MessageEvent<SummariesMessage>) => {
			if (data.problem !== undefined) return reject(new Error(data.problem));
			onProgress(data.done);
			if (data.done === ids.length) resolve(true);
		};
		worker.onerror = ({ message }) => reject(new Error(message));
		worker.postMessage(ids);
	});
	try {
		return await Promise.race([stopped, done]);
	} finally {
		worker.terminate();
	}
}
