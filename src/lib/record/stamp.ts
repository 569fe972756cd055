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

/** A moment after `earlier`, at best `wanted`: what is said in knowledge of another word is later than it. */
export function after(earlier: string, wantedMs: number): string {
	const earliestMs = earlier === '' ? -Infinity : Date.parse(earlier) + 1;
	return new Date(Math.max(wantedMs, earliestMs)).toISOString();
}
