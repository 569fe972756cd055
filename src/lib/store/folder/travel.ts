import { read, type UseStore } from '../database';
import { fatesOf, type Fate } from './known-fate';
import { consents } from './state';
import type { Owner } from '../owner';

/** What decides whether something may be written into the folder. */
export interface Travel {
	/** Athletes for whom writing is switched on. */
	consents: ReadonlySet<string>;
	/** The card that a card was merged into, over any number of merges; itself where it was not. */
	resolve(athleteId: string): string;
}

/** Who agreed, as it stands now. Rejects with `StoreError`. */
export function travelOf(store: UseStore): Promise<Travel> {
	return read(store, async (objects) => {
		const [given, fates] = await Promise.all([consents(objects), fatesOf(objects, 'athlete')]);
		return { consents: given, resolve: resolver(fates) };
	});
}

/** Follows merges; two laptops that merged the same cards crosswise end at the card with the smallest id. */
export function resolver(fates: ReadonlyMap<string, Fate>): (id: string) => string {
	return (id) => {
		const way = [id];
		for (;;) {
			const last = way.at(-1)!;
			const into = fates.get(last)?.deleted ? fates.get(last)?.into : undefined;
			if (into === undefined) return last;
			const start = way.indexOf(into);
			if (start >= 0) return way.slice(start).sort()[0]!;
			way.push(into);
		}
	};
}

/** Both whose numbers it keeps and whose it is must have agreed; invented sessions never travel. */
export function mayTravel({ recordedId, ownerId, isInvented }: Owner, travel: Travel): boolean {
	return !isInvented && [recordedId, ownerId].every((id) => travel.consents.has(travel.resolve(id)));
}
