import { entriesUnder, keysUnder, read, valueAt, write, type UseStore } from '../database';
import { checkedEntry, memberOf } from '$lib/record/kinds';
import { parsedName } from './names';
import { readMemory } from './memory';
import { consents, tellsReason } from './state';
import { ownerIn } from '../owner';
import type { FolderReport, SharedCounts } from './visit-report';
import type { RecordHead } from '$lib/record/head';

/** What an athlete has in the folder. */
export interface Holding {
	athleteId: string;
	name: string;
	/** Sessions that lay in the folder at the last visit. */
	sessions: number;
	/** The card lay there as well. */
	hasCard: boolean;
	/** Writing is switched on in this browser. */
	isOn: boolean;
	/** Why the athlete is or was held back lies here: whether that is written, too. Absent where there is nothing to tell. */
	tellsReason?: boolean;
}

/**
 * Whose data the folder holds, as far as it was read: everybody with a card here, and whoever sessions in it
 * belong to, by name. Invented athletes are left out. Rejects with `StoreError`.
 */
export async function holdings(store: UseStore): Promise<Holding[]> {
	const { seen } = await readMemory(store);
	const names = [...seen].flatMap((text) => parsedName(text) ?? []);
	const sharedCards = new Set(names.flatMap(({ kind, id }) => (kind === 'athlete' ? id : [])));
	return read(store, async (objects) => {
		const [given, cards] = await Promise.all([consents(objects), entriesUnder(objects, 'athlete/')]);
		const found = new Map<string, Holding>();
		const holdingOf = (athleteId: string, name: string) => {
			const [hasCard, isOn] = [sharedCards.has(athleteId), given.has(athleteId)];
			const known: Holding = found.get(athleteId) ?? { athleteId, name, sessions: 0, hasCard, isOn };
			found.set(athleteId, known);
			return known;
		};
		for (const [key, card] of cards) {
			if (memberOf(card, 'example') === true) continue;
			const holding = holdingOf(key.split('/')[1] ?? '', String(memberOf(card, 'name')));
			if (memberOf(card, 'blows') !== undefined)
				holding.tellsReason = await tellsReason(objects, holding.athleteId);
		}
		for (const { kind, id } of names) {
			if (kind !== 'session') continue;
			const owner = await ownerIn(objects, id);
			if (owner) holdingOf(owner.ownerId, owner.name).sessions++;
		}
		return [...found.values()].sort((one, other) => one.name.localeCompare(other.name));
	});
}

/** What came of the last visit to the folder; undefined before the first. Rejects with `StoreError`. */
export async function lastReport(store: UseStore): Promise<FolderReport | undefined> {
	// Written by this page alone.
	return (await read(store, (objects) => valueAt(objects, 'folder/report'))) as FolderReport | undefined;
}

/**
 * Keeps a report. One of a visit that moved nothing keeps what moved before and when, so that a look at the screen
 * does not wipe out what came in overnight. Answers what was kept. Rejects with `StoreError`.
 */
export function keepReport(store: UseStore, report: FolderReport): Promise<FolderReport> {
	return write(store, async (objects) => {
		const before = (await valueAt(objects, 'folder/report')) as FolderReport | undefined;
		const hasMoved = [report.cameIn, report.wentOut].some(hasAny);
		const { movedAt, cameIn, wentOut } = before && !hasMoved ? before : report;
		const kept = { ...report, movedAt, cameIn, wentOut };
		objects.put(kept, 'folder/report');
		return kept;
	});
}

export const hasAny = (counts: SharedCounts) => Object.values(counts).some((count) => count > 0);

/** A session that can still be brought back. */
export interface DeletedSession {
	id: string;
	planName: string;
	/** ISO 8601 in UTC. */
	startedAt: string;
	athlete: string;
}

/** What was deleted, here or elsewhere, and is not purged yet, newest first. Rejects with `StoreError`. */
export function deletedSessions(store: UseStore): Promise<DeletedSession[]> {
	return read(store, async (objects) => {
		const found: DeletedSession[] = [];
		for (const key of await keysUnder(objects, 'tombstone/')) {
			const id = key.slice('tombstone/'.length);
			const { value } = checkedEntry(`head/${id}`, await valueAt(objects, `head/${id}`));
			const owner = await ownerIn(objects, id);
			if (!value || !owner) continue;
			const { plan, startedAt } = (value as { head: RecordHead }).head;
			found.push({ id, planName: plan.name, startedAt, athlete: owner.name });
		}
		return found.sort((one, other) => (one.startedAt < other.startedAt ? 1 : -1));
	});
}
