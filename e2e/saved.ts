import { entriesIn, type AnyPage } from './entries';

/** A kept session as it lies in the browser's database, its columns as plain lists. */
export interface SavedSession {
	head: {
		id: string;
		version: number;
		plan: { blocks?: object[] };
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
			activity?: string;
			over?: { overS: number; burstOverS: number };
			rest?: { startMs: number; endMs: number; drop60?: number; verdict: string; reason?: string };
		}[];
	};
	/** Elapsed milliseconds since Start and the rate of every packet, in order of arrival. */
	packets: { ms: number; bpm: number }[];
}

/** Everything that was kept, read from the database itself, oldest first. */
export async function savedIn(page: AnyPage): Promise<SavedSession[]> {
	const byKey = Object.fromEntries(await entriesIn(page));
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
