import { travelOf } from './travel';
import { FolderVisit } from './visit';
import { readOwner } from '../owner';
import { readMemory, keepMemory } from './memory';
import { unsentKey } from '../days';
import { write, type UseStore } from '../database';
import type { FolderFiles } from './door';

/**
 * Takes an athlete's sessions, corrections, training days and card out of the folder. Nothing is deleted here or on another
 * laptop; one where the athlete is switched on writes them again. Rejects as `visitFolder` does.
 */
export async function withdraw(
	store: UseStore,
	files: FolderFiles,
	athleteId: string,
	nowMs: number
): Promise<void> {
	const memory = await readMemory(store);
	const visit = new FolderVisit(
		store,
		files,
		memory,
		nowMs,
		() => true,
		() => undefined
	);
	await visit.list(true);
	const { resolve } = await travelOf(store);
	try {
		for (const name of visit.of('session', 'edit')) {
			const owner = await readOwner(store, name.id);
			if (owner && resolve(owner.ownerId) === athleteId) await visit.remove(name);
		}
		for (const name of visit.of('athlete', 'days')) {
			if (name.id !== athleteId) continue;
			// An older file of this machine that a copier brings back later does not tell the month.
			if (name.kind === 'days')
				await write(store, (objects) => void objects.put(true, unsentKey(athleteId, name.month)));
			await visit.remove(name);
		}
		// Files of the athlete may lie where could not be looked now.
		if (visit.unread.length > 0) throw visit.unread[0];
	} finally {
		await keepMemory(store, memory);
	}
}
