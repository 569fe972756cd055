import { startWorker, type SummariesMessage } from './summaries-worker';

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
	const worker = startWorker();
	let stop = () => {};
	const finished = new Promise<boolean>((resolve, reject) => {
		stop = () => resolve(false);
		worker.onmessage = ({ data }: MessageEvent<SummariesMessage>) => {
			if (data.problem !== undefined) return reject(new Error(data.problem));
			onProgress(data.done);
			if (data.done === ids.length) resolve(true);
		};
		worker.onerror = ({ message }) => reject(new Error(message));
		worker.postMessage(ids);
	});
	return { finished: finished.finally(() => worker.terminate()), stop };
}
