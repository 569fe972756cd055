/// <reference no-default-lib="true"/>
/// <reference lib="esnext" />
/// <reference lib="webworker" />
import { asPutRight } from '$lib/record/put-right';
import { summaryOf } from '$lib/review/summary';
import { openDatabase } from './database';
import { readSession, saveSummary } from './sessions';

/** How far the worker has come; `problem` where the store failed it, and then nothing more comes. */
export interface SummariesMessage {
	done: number;
	problem?: string;
}

// Measures sessions afresh, away from the page. Each summary is stored in one step, so that ending the worker at
// any moment leaves nothing half done. What cannot be read stays for the list to name.
const worker = globalThis.self as unknown as DedicatedWorkerGlobalScope;
const toldEveryMs = 100;

async function measureAfresh(ids: readonly string[]) {
	const store = openDatabase();
	let toldMs = 0;
	for (const [i, id] of ids.entries()) {
		try {
			const found = await readSession(store, id);
			if (found.status === 'found')
				await saveSummary(store, id, summaryOf(asPutRight(found.record, found.edit)), found.edit);
		} catch {
			// A full disk, or a record that defies measuring: this one stays listed without its summary.
		}
		const nowMs = performance.now();
		if (nowMs - toldMs < toldEveryMs && i + 1 < ids.length) continue;
		toldMs = nowMs;
		worker.postMessage({ done: i + 1 } satisfies SummariesMessage);
	}
}

worker.addEventListener('message', ({ data }: MessageEvent<readonly string[]>) => {
	measureAfresh(data).catch((error: unknown) => {
		worker.postMessage({ done: 0, problem: String(error) } satisfies SummariesMessage);
	});
});
