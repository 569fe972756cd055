import { noteOwnFates } from './fates';
import { giveDays, takeDays } from './days';
import { givePlans, takePlans } from './plans';
import { takeCards, takeEdits, takeFates, takeSessions } from './intake';
import { followMerges } from './merges';
import { giveCards, giveEdits, giveFates, giveSessions, noteOwnCards } from './outlet';
import { travelOf } from './travel';
import { keepMemory, readMemory } from './memory';
import { agreeOnYears } from './years';
import { FolderVisit } from './visit';
import type { FolderReport, VisitProgress } from './visit-report';
import type { UseStore } from '../database';
import type { FolderFiles } from './door';

/**
 * Reads what other laptops wrote into the folder and writes what is new here. Every file is written once and
 * never changed, so whatever the order in which laptops write, copy and read, those that have read the same
 * files hold the same sessions, corrections, cards, plans and deletions. Years into which nobody writes any more are
 * listed once a week, or now where `everyYear` asks for it.
 *
 * Answers what came of it. Rejects with `StoreError`, with the browser's `DOMException` where the folder is gone
 * or forbidden, and with `Interrupted` once `mayGoOn` says no (it is asked between two files); what was done by
 * then stands, and the next visit goes on.
 */
export async function visitFolder(
	store: UseStore,
	files: FolderFiles,
	nowMs: number,
	mayGoOn: () => boolean = () => true,
	onProgress: (progress: VisitProgress) => void = () => undefined,
	everyYear = false
): Promise<FolderReport> {
	const memory = await readMemory(store);
	const visit = new FolderVisit(store, files, memory, nowMs, mayGoOn, onProgress);
	try {
		await visit.list(everyYear);
		// What was done here first: it must not be taken for something that the folder does not know yet.
		const { athletesBack, sessionsTold } = await noteOwnFates(store, nowMs);
		for (const id of athletesBack) visit.readDaysAgain(id);
		for (const id of sessionsTold) visit.sessionsTold.add(id);
		await noteOwnCards(visit);
		await takeFates(visit);
		await takeCards(visit);
		await takeDays(visit);
		await takePlans(visit);
		await takeSessions(visit);
		await agreeOnYears(visit, await travelOf(store));
		// Before those of others are taken in: two of one millisecond are told apart by their files alone.
		await giveEdits(visit, await travelOf(store));
		await takeEdits(visit);
		if (!memory.isSettled) await followMerges(store, nowMs);
		memory.isSettled = true;
		const travel = await travelOf(store);
		await giveSessions(visit, travel);
		await giveEdits(visit, travel);
		await giveCards(visit, travel);
		await giveDays(visit, travel);
		await givePlans(visit, travel);
		await giveFates(visit, travel);
		return visit.report;
	} finally {
		await keepMemory(store, memory);
	}
}
