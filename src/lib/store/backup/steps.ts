import type { Entries } from './form';
import { checkedEntry } from '$lib/record/kinds';
import { jsonText } from '../plain-json';

/** Something a restore touches or leaves, by the name people know it by. */
export interface RestoreItem {
	name: string;
	/** What becomes of it and why, where that is not plain. */
	why?: string;
}

export interface RestoreGroup {
	kind: 'Sessions' | 'Athletes' | 'Plans' | 'Settings' | 'Training days' | 'Weight and food';
	added: RestoreItem[];
	changed: RestoreItem[];
	skipped: RestoreItem[];
}

/** What a restore does, and what is said of it before. */
export interface Steps {
	groups: RestoreGroup[];
	puts: [string, unknown][];
	deletes: string[];
	/** When what comes in as deleted counts as deleted. */
	nowMs: number;
}

export type Outcome = 'added' | 'changed' | 'skipped';

export type Note = (outcome: Outcome, name: string, why?: string) => void;

/** What lies here in the form a backup has; undefined where it is damaged. */
export const soundHere = (key: string, here: Entries) => checkedEntry(key, here.get(key)).value;

// Both sides went through the same schema, so equal values have their members in the same order.
export const same = (one: unknown, other: unknown) => jsonText(one) === jsonText(other);
