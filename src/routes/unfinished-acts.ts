import { storeReason } from '$lib/components/frame/store-words';
import { keepUnfinished } from '$lib/review/unfinished';
import { openJournal, unfinishedJournal, type UnfinishedJournal } from '$lib/store/journal';
import type { UseStore } from '$lib/store/database';
import type { getApp } from './context';

/**
 * What can be done with a session that was left unfinished. Another tab may have gone on with it, kept it or discarded it
 * since it was listed, so each reads what is there anew, as the one tab that may record. Answers why nothing was done,
 * in sentences; nothing where it was done.
 */

type Tabs = Pick<ReturnType<typeof getApp>['tabs'], 'take' | 'giveBack'>;

const busy = 'Another tab records or restores at this moment. Try again when it is done.';
const gone =
	'Nothing of that session lies here any more: another tab has kept or discarded it, or the browser was cleared.';
const grown = 'Another tab has gone on with that session since. Look at it again before you discard it.';

/**
 * Goes on with it: whoever calls has made this tab the one that records, and it stays that where `goOn` took it; else that
 * answers why not.
 */
export async function goOnWith(
	{ store, tabs }: { store: UseStore; tabs: Pick<Tabs, 'giveBack'> },
	{ sessionId }: UnfinishedJournal,
	goOn: (
		start: NonNullable<UnfinishedJournal['start']>,
		entries: UnfinishedJournal['entries']
	) => string | undefined
): Promise<string | undefined> {
	let journal: UnfinishedJournal | undefined;
	let why: string | undefined = gone;
	try {
		journal = await unfinishedJournal(store, sessionId);
	} catch (problem) {
		why = notDone(problem);
	}
	if (journal?.start) why = goOn(journal.start, journal.entries);
	if (why === undefined) return undefined;
	tabs.giveBack();
	return why;
}

/** Keeps it as far as it came; `onKept` is told the id of its first record. */
export function keepIt(
	{ store, tabs }: { store: UseStore; tabs: Tabs },
	{ sessionId, entries }: UnfinishedJournal,
	onKept: (id: string) => Promise<void>
): Promise<string | undefined> {
	return alone(tabs, async () => {
		let id: string;
		try {
			id = await keepUnfinished(entries, openJournal(store, sessionId));
		} catch (problem) {
			return (await unfinishedJournal(store, sessionId)) ? notDone(problem) : gone;
		}
		await onKept(id);
		return undefined;
	});
}

/** Discards it if it is what was listed, and no more. */
export function discardIt(
	{ store, tabs }: { store: UseStore; tabs: Tabs },
	{ sessionId, entries }: UnfinishedJournal
): Promise<string | undefined> {
	return alone(tabs, async () => {
		const there = await unfinishedJournal(store, sessionId);
		if (there && there.entries.length !== entries.length) return grown;
		await openJournal(store, sessionId).discard();
		return undefined;
	});
}

async function alone(tabs: Tabs, act: () => Promise<string | undefined>): Promise<string | undefined> {
	if (!(await tabs.take())) return busy;
	try {
		return await act();
	} catch (problem) {
		return notDone(problem);
	} finally {
		tabs.giveBack();
	}
}

const notDone = (problem: unknown) => `Not done. ${storeReason(problem)}`;
