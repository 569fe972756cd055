import { promisifyRequest } from 'idb-keyval';
import { entriesUnder, read, StoreError, under, write, type UseStore } from './database';
import { groupById } from './many-entries';
import { journalPrefix } from './journal-keys';
import { enterInDay } from './days';
import { putSession } from './sessions';
import { dayOf } from '$lib/record/athlete-changes';
import { check } from '$lib/record/check';
import {
	journalEntrySchema,
	JournalGone,
	type Finished,
	type JournalEntry,
	type SessionStart,
	type UnfinishedSink
} from '$lib/record/journal';

const chunkKey = (sessionId: string, chunk: number) =>
	`${journalPrefix(sessionId)}${String(chunk).padStart(8, '0')}`;

/**
 * The journal of one session, new or gone on with (`isFound`: it was found here, so it must still be). Calls are
 * carried out one after the other, so the order on disk is the order of the calls; one that fails leaves the others
 * alone. Entries that begin with the start are the whole journal: they take the place of whatever lies there. After
 * `finish` or `discard` has succeeded every call rejects. Everything rejects with `StoreError`, `append` also with
 * `JournalGone`.
 */
export function openJournal(store: UseStore, sessionId: string, isFound = false): UnfinishedSink {
	/** So many chunks are known to have been written: fewer, and the browser has cleared them. */
	let atLeast = isFound ? 1 : 0;
	/** Where the next one belongs if nobody else writes here; unknown until this journal has written. */
	let nextChunk: number | undefined;
	let isShared = false;
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

	async function writeChunk(entries: readonly JournalEntry[]): Promise<'written' | 'gone' | 'shared'> {
		const isWhole = entries[0]?.kind === 'start';
		const [answer, end] = await write(
			store,
			async (objects) => {
				const free = await firstFreeChunk(objects, sessionId);
				// Data cleared in mid-session took the start with it, and what follows would be of no use alone.
				if (!isWhole && free < atLeast) return ['gone', 0] as const;
				if (nextChunk !== undefined && free > nextChunk) return ['shared', free] as const;
				const replaces = isWhole && free > 0;
				if (replaces) objects.delete(under(journalPrefix(sessionId)));
				const number = replaces ? 0 : free;
				// `add`, because a chunk once written is never written over, not even by a second tab.
				objects.add(entries, chunkKey(sessionId, number));
				return ['written', number + 1] as const;
			},
			'strict'
		);
		atLeast = end;
		nextChunk = answer === 'gone' ? undefined : end;
		return answer;
	}

	async function replaceBy(finishedOf: (objects: IDBObjectStore) => Promise<Finished>): Promise<void> {
		await write(
			store,
			async (objects) => {
				const { records, entries } = await finishedOf(objects);
				if (records.length === 0)
					throw new StoreError('failed', 'There is no record to keep of this session.');
				for (const record of records) putSession(objects, record);
				for (const { athleteId, startedAt, entry } of entries)
					await enterInDay(objects, athleteId, dayOf(new Date(startedAt)), entry);
				objects.delete(under(journalPrefix(sessionId)));
			},
			'strict'
		);
		closed = true;
	}

	return {
		append(entries) {
			// What the caller does to its list while this waits its turn must not reach the disk.
			const chunk = [...entries];
			return inTurn(async () => {
				const answer = await writeChunk(chunk);
				if (answer === 'gone') throw new JournalGone(`The journal of session ${sessionId} has vanished.`);
				if (answer === 'written') return;
				isShared = true;
				throw new StoreError('failed', `Another tab has written to the journal of session ${sessionId}.`);
			});
		},
		finish(records, entries = []) {
			return inTurn(() =>
				replaceBy(async (objects) => {
					const free = await firstFreeChunk(objects, sessionId);
					// The other tab's entries would go with the journal, and be nowhere else.
					if (isShared || (nextChunk !== undefined && free > nextChunk))
						throw new StoreError('elsewhere', `Another tab has gone on with session ${sessionId}.`);
					return { records, entries };
				})
			);
		},
		finishAs(build) {
			return inTurn(() =>
				replaceBy(async (objects) => {
					const chunks = await entriesUnder(objects, journalPrefix(sessionId));
					return build(checkJournal(sessionId, chunks).entries);
				})
			);
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

/** The same for one session; undefined where nothing of it lies there any longer. Rejects with `StoreError`. */
export async function unfinishedJournal(
	store: UseStore,
	sessionId: string
): Promise<UnfinishedJournal | undefined> {
	const chunks = await read(store, (objects) => entriesUnder(objects, journalPrefix(sessionId)));
	return chunks.length > 0 ? checkJournal(sessionId, chunks) : undefined;
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
