/** How many of each came or went. */
export interface SharedCounts {
	sessions: number;
	corrections: number;
	cards: number;
	/** Training days that say something new; what goes out is counted by the month. */
	days: number;
	/** Plans of which something new is said, that they were removed too. */
	plans: number;
	deletions: number;
	/** Deleted before, and brought back. */
	restored: number;
}

/** What came of one visit to the folder. */
export interface FolderReport {
	/** ISO 8601 in UTC. */
	at: string;
	/** When what came in and went out did so. */
	movedAt: string;
	/** Files with a name of ours. */
	listed: number;
	/** How many of them were opened, because they were new. */
	opened: number;
	cameIn: SharedCounts;
	wentOut: SharedCounts;
	/** Files that could not be taken in; they stay where they are. */
	problems: { name: string; problem: string }[];
	/** Other files and folders that lie there; they are left alone. */
	foreign: { count: number; examples: string[] };
	/** Years that were not looked into, because that is not due: what lay there before counts. */
	leftOut?: string[];
}

/** How far a visit is: files that lay there unread, or sessions that may have to be written. */
export interface VisitProgress {
	what: 'reading' | 'writing';
	done: number;
	total: number;
}

const noCounts = (): SharedCounts => ({
	sessions: 0,
	corrections: 0,
	cards: 0,
	days: 0,
	plans: 0,
	deletions: 0,
	restored: 0
});

/** The report of a visit that has not begun. */
export function emptyReport(nowMs: number): FolderReport {
	const at = new Date(nowMs).toISOString();
	return {
		at,
		movedAt: at,
		listed: 0,
		opened: 0,
		cameIn: noCounts(),
		wentOut: noCounts(),
		problems: [],
		foreign: { count: 0, examples: [] }
	};
}
