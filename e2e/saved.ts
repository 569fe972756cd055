/** A kept session as it lies in the browser's database, its columns as plain lists. */
export interface SavedSession {
	head: {
		id: string;
		groupId: string;
		athlete: { athleteId: string; name: string };
		startedAt: string;
		endedMs: number;
		strapName: string;
		practice: boolean;
		amendments: { kind: string; atMs: number }[];
		events: { kind: string; ms: number }[];
		joinedMs?: number;
		strapChanges?: { ms: number; strapName: string }[];
	};
	/** Written by the list of sessions, so absent before it was opened. */
	summary?: {
		rounds: {
			startMs: number;
			endMs: number;
			over?: { overS: number; burstOverS: number };
			rest?: { startMs: number; endMs: number; drop60?: number; verdict: string; reason?: string };
		}[];
	};
	/** Elapsed milliseconds since Start and the rate of every packet, in order of arrival. */
	packets: { ms: number; bpm: number }[];
}

/** A page of either driver. */
interface AnyPage {
	evaluate(work: () => Promise<string>): Promise<string>;
}

/** Everything that was kept, read from the database itself, oldest first. */
export async function savedIn(page: AnyPage): Promise<SavedSession[]> {
	const entries = await page.evaluate(async () => {
		const done = <T>(request: IDBRequest<T>) =>
			new Promise<T>((resolve, reject) => {
				request.onsuccess = () => resolve(request.result);
				request.onerror = () => reject(request.error);
			});
		const database = await done(indexedDB.open('corner-minute'));
		const entries = database.transaction('entries').objectStore('entries');
		const [keys, values] = await Promise.all([done(entries.getAllKeys()), done(entries.getAll())]);
		database.close();
		return JSON.stringify(
			Object.fromEntries(keys.map((key, i) => [String(key), values[i] as unknown])),
			(_, value: unknown) => (ArrayBuffer.isView(value) ? Array.from(value as Uint16Array) : value)
		);
	});
	const byKey = JSON.parse(entries) as Record<string, unknown>;
	const heads = Object.entries(byKey).filter(([key]) => key.startsWith('head/'));
	return heads
		.map(([key, stored]) => {
			const body = byKey[key.replace('head/', 'body/')] as SavedColumns;
			return { ...(stored as Omit<SavedSession, 'packets'>), packets: packetsOf(body) };
		})
		.sort((a, b) => a.head.startedAt.localeCompare(b.head.startedAt));
}

interface SavedColumns {
	firstMs: number;
	stepMs: number[];
	bpm: number[];
}

function packetsOf({ firstMs, stepMs, bpm }: SavedColumns): SavedSession['packets'] {
	let ms = firstMs;
	return stepMs.map((step, i) => ({ ms: (ms += step), bpm: bpm[i] ?? NaN }));
}
