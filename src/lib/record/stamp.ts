import { hashOf } from './same';

/** When something was said, and on which machine: of two that contradict each other the later one holds. */
export interface Stamp {
	/** ISO 8601 in UTC; empty where nobody knows. */
	at: string;
	/** The machine's own id; empty for what was kept before machines signed. */
	by: string;
}

/** Whether what one stamp says holds against the other. Both texts are ISO 8601, whose order is that of time. */
export function isLater(one: Stamp, other: Stamp): boolean {
	return one.at === other.at ? one.by > other.by : one.at > other.at;
}

const mostLaterMs = 1000;

/**
 * A moment after `earlier`, at best `wantedMs`: what is said in knowledge of another word is later than it. Where the clock
 * is behind that, by how much hangs on what is `said` (up to a second): a laptop whose disk was set back, and that says
 * something else this time, would say both at one moment, and others that know one would never take the other.
 */
export function after(earlier: string, wantedMs: number, said: unknown): string {
	const earlierMs = earlier === '' ? -Infinity : Date.parse(earlier);
	const ms = wantedMs > earlierMs ? wantedMs : earlierMs + 1 + (hashOf(said) % mostLaterMs);
	return new Date(ms).toISOString();
}

/** The moment in the name of a file that tells of what was said at `saidAt`, later than that of its `last` one, as in `after`. */
export const fileMoment = (last: string, saidAt: string, content: unknown): string =>
	after(last > saidAt ? last : saidAt, -Infinity, content);
