import type { Entries } from './form';
import { nameOf } from './names';
import type { Note, Steps } from './steps';
import { checkedDay, type StoredDay } from '$lib/record/day';
import { joined } from '$lib/record/registers';
import { isSame } from '$lib/record/same';

/** A day is joined entry by entry, as two laptops join one. */
export function takeDay(key: string, entries: Entries, here: Entries, steps: Steps, note: Note): void {
	const [, id, date] = key.split('/');
	const name = `${nameOf(id, entries, here)}: ${date}`;
	const present = here.has(key) ? checkedDay(here.get(key)) : undefined;
	if (present?.problem !== undefined)
		return note('skipped', name, 'the one here cannot be read, and stays as it is');
	const both = joined(present?.value ?? {}, entries.get(key) as StoredDay);
	if (present && isSame(both, present.value)) return note('skipped', name, 'already here');
	steps.puts.push([key, both]);
	note(present ? 'changed' : 'added', name, present && 'what was entered here stays');
}
