import { promisifyRequest } from 'idb-keyval';
import { entriesUnder, groupById, read, storable, StoreError, under, write } from './database';
import { journalPrefix } from './journal-keys';
import { summarySchema } from './summary-schema';
import { recordBodySchema } from '$lib/session/record-body-schema';
import { check, journalEntrySchema, recordHeadSchema } from '$lib/session/record-schema';
import type { UseStore } from './database';
import { JournalGone, type JournalEntry, type SessionStart, type Sink } from '$lib/session/journal';

const chunkKey = (sessionId: string, chunk: number) =>
	`${journalPrefix(sessionId)}${String(chunk).padStart(8, '0')}`;

/**
 * The journal of one session, new or gone on with: it continues after the last chunk that lies there. Calls
 * are carried out one after the other, so the order on disk is the order of the calls; one that fails leaves
 * the others alone. After `finish` or `discard` has succeeded every call rejects. Everything rejects with
 * `StoreError`.
 */
export function openJournal(store: UseStore, sessionId: string): Sink {
	let nextChunk: number | undefined;
	let closed = false;
	let lastInLine: Promise<unknown> = Promise.resolve();

	function inTurn(task: () => Promise<void>): Promise<void> {
		const turn = lastInLine.then(() => {
			if (closed) throw new StoreError('failed', `The journal of session ${sessionId} is closed.`);
			return task();
		});
		lastInLine = turn.catch(() => undefined);
		return turn;
	}

	return {
		append(entries) {
			// What the caller does to its list while this waits its turn must not reach the disk.
			const chunk = [...entries];
			return inTurn(async () => {
				const known = nextChunk;
				// Should this fail, the next one looks up anew where the journal ends.
				nextChunk = undefined;
				const written = await write(store, async (objects) => {
					const free = await firstFreeChunk(objects, sessionId);
					// Data cleared in mid-session took the start with it, and what follows would be of no use alone.
					if (known !== undefined && free < known) return undefined;
					const number = known ?? free;
					// `add`, because a chunk once written is never written over, not even by a second tab.
					objects.add(chunk, chunkKey(sessionId, number));
					return number;
				});
				if (written === undefined) throw new JournalGone(`The journal of session ${sessionId} has vanished.`);
				nextChunk = written + 1;
			});
		},
		finish(records) {
			return inTurn(async () => {
				if (records.length === 0)
					throw new StoreError('failed', 'There is no record to keep of this session.');
				const kept = records.map(({ head, body, summary }) => {
					const record = {
						head: storable(recordHeadSchema, head, 'The session'),
						body: storable(recordBodySchema, body, 'The session')
					};
					// A cache: one that cannot be stored costs nothing but itself.
					const { value } = check(summarySchema, summary);
					return value ? { ...record, summary: value } : record;
				});
				await write(store, (objects) => {
					for (const { body, ...listed } of kept) {
						const { head } = listed;
						objects.add(listed, `head/${head.id}`);
						objects.add(body, `body/${head.id}`);
					}
					objects.delete(under(journalPrefix(sessionId)));
				});
				closed = true;
			});
		},
		discard() {
			return inTurn(async () => {
				await write(store, (objects) => void objects.delete(under(journalPrefix(sessionId))));
				closed = true;
			});
		}
	};
}

async function firstFreeChunk(objects: IDBObjectStore, sessionId: string): Promise<number> {
	const last = await promisifyRequest(objects.openKeyCursor(under(journalPrefix(sessionId)), 'prev'));
	return last ? Number(String(last.key).slice(journalPrefix(sessionId).length)) + 1 : 0;
}

/** A session that was started and neither finished nor discarded. */
export interface UnfinishedJournal {
	sessionId: string;
	/** Absent where the start entry is missing or damaged; the session cannot be rebuilt then. */
	start?: SessionStart;
	/** All that could be read, in order. */
	entries: JournalEntry[];
	/** What could not, in a plain sentence; absent where everything could. */
	unreadable?: string;
}

/**
 * Every journal that lies in the store, each entry checked, in no particular order. One that is being
 * written at this moment is among them. Damaged entries are named and left where they are. Rejects with
 * `StoreError`.
 */
export async function unfinishedJournals(store: UseStore): Promise<UnfinishedJournal[]> {
	const chunks = await read(store, (objects) => entriesUnder(objects, 'journal/'));
	return Array.from(groupById(chunks), ([sessionId, stored]) => checkJournal(sessionId, stored));
}

function checkJournal(sessionId: string, chunks: readonly [string, unknown][]): UnfinishedJournal {
	const entries: JournalEntry[] = [];
	const problems: string[] = [];
	for (const stored of chunks.flatMap(([, chunk]) => chunk)) {
		const { value, problem } = check(journalEntrySchema, stored);
		if (value) entries.push(value);
		else problems.push(problem);
	}
	const start = entries.find((entry) => entry.kind === 'start')?.start;
	if (!start) problems.unshift('The entry with its start is missing, so it cannot be made into a record.');
	const journal: UnfinishedJournal = { sessionId, entries };
	if (start) journal.start = start;
	if (problems.length > 0)
		journal.unreadable =
			problems.length === 1 ? problems[0] : `${problems.length} things are wrong. The first: ${problems[0]}`;
	return journal;
}
