import { entriesUnder, read, valueAt, write, type UseStore } from './database';
import { memberOf } from './backup-form';
import { parsedName } from './folder-names';
import { consents, readMemory } from './folder-state';
import { ownerIn } from './owner';
import type { FolderReport } from './folder-visit';

/** What an athlete has in the folder. */
export interface Holding {
	athleteId: string;
	name: string;
	/** Sessions that lay in the folder at the last visit. */
	sessions: number;
	/** Writing is switched on in this browser. */
	isOn: boolean;
}

/**
 * Whose data the folder holds, as far as it was read: everybody with a card here, and whoever sessions in it
 * belong to, by name. Invented athletes are left out. Rejects with `StoreError`.
 */
export async function holdings(store: UseStore): Promise<Holding[]> {
	const { seen } = await readMemory(store);
	const sessions = [...seen].map(parsedName).filter((name) => name?.kind === 'session');
	return read(store, async (objects) => {
		const [given, cards] = await Promise.all([consents(objects), entriesUnder(objects, 'athlete/')]);
		const found = new Map<string, Holding>();
		const holdingOf = (athleteId: string, name: string) => {
			const known = found.get(athleteId) ?? { athleteId, name, sessions: 0, isOn: given.has(athleteId) };
			found.set(athleteId, known);
			return known;
		};
		for (const [key, card] of cards)
			if (memberOf(card, 'example') !== true)
				holdingOf(key.split('/')[1] ?? '', String(memberOf(card, 'name')));
		for (const { id } of sessions as { id: string }[]) {
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

export function keepReport(store: UseStore, report: FolderReport): Promise<void> {
	return write(store, (objects) => void objects.put(report, 'folder/report'));
}
