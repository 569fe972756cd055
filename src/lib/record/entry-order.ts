import type { CornerSoFar } from './corner-so-far';
import type { JournalEntry } from './journal';

/** At one moment: who comes, what is heard, which strap changes, who goes. */
const ranks: Record<JournalEntry['kind'], number> = {
	start: 0,
	amendment: 0,
	join: 0,
	reading: 1,
	event: 1,
	strap: 2,
	'hand over': 2,
	'hand over undone': 2,
	leave: 3
};

/**
 * Entries in order of time: which number a corner has depends on who had left before, and whose a strap's word is on who
 * wore it. Of one corner and moment those of one kind stay in their order.
 */
export function inTime(
	entries: readonly JournalEntry[],
	corners: ReadonlyMap<number, Pick<CornerSoFar, 'joinedMs'>>
): JournalEntry[] {
	return entries
		.map((entry) => ({ entry, atMs: momentOf(entry, corners), rank: ranks[entry.kind] }))
		.toSorted((one, other) => one.atMs - other.atMs || one.rank - other.rank)
		.map(({ entry }) => entry);
}

/** Nothing is heard of anybody before they have come. */
function momentOf(entry: JournalEntry, corners: ReadonlyMap<number, Pick<CornerSoFar, 'joinedMs'>>): number {
	if (entry.kind !== 'reading' && entry.kind !== 'event') return msOf(entry);
	return Math.max(msOf(entry), corners.get(entry.corner)?.joinedMs ?? -Infinity);
}

function msOf(entry: JournalEntry): number {
	if (entry.kind === 'strap') return entry.change.ms;
	if (entry.kind === 'event') return entry.event.ms;
	return 'ms' in entry ? entry.ms : 0;
}
