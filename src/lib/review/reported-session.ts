import type { Usual } from '$lib/physiology/usual';
import type { Athlete } from '$lib/record/athlete';
import { heldForOlderPages } from '$lib/record/blow';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { Summary } from '$lib/record/summary';
import { restrictionOf } from '$lib/record/way-back';
import type { RunResult } from './guided-summary';
import { runResultOf } from './own-result';
import type { PreviousCheck } from './previous-check';
import type { Reviewed } from './reviewed';

/** What the report of a session stands on. */
export interface ReportedSession {
	head: RecordHead;
	edit: Pick<RecordEdit, 'title' | 'planName' | 'note' | 'effort'>;
	summary: Summary;
	/** Of a threshold run. */
	run?: RunResult;
	/** The athlete's own drops in other sessions like this one. */
	usual?: Usual;
	previousCheck?: PreviousCheck;
	/** Held back today, and at least until a day, YYYY-MM-DD, that somebody set. Why is nobody's business on paper. */
	restriction?: { atLeastUntil?: string };
	/** When the note was written, ISO 8601. */
	noteAt?: string;
}

/** What a kept session's report stands on: the same figures as its review. `today` is YYYY-MM-DD. */
export function reportedSession(
	found: { edit: ReportedSession['edit'] & Pick<RecordEdit, 'feeling'>; noteAt?: string },
	shown: Reviewed,
	owner: Athlete | undefined,
	others: Pick<ReportedSession, 'usual' | 'previousCheck'>,
	today: string
): ReportedSession {
	return {
		head: shown.record.head,
		edit: found.edit,
		summary: shown.summary,
		run: runResultOf(shown, found.edit),
		usual: others.usual,
		previousCheck: others.previousCheck,
		noteAt: found.noteAt,
		...(owner && restrictionOf(owner, today) && { restriction: restrictionOnPaper(owner, today) })
	};
}

/** No day opens a lock: one that lies ahead only says that it lasts as long as that. */
function restrictionOnPaper({ noSparringUntil, blows = [], locks = [] }: Athlete, today: string) {
	const standDowns = [...blows, ...locks].map(({ standDownUntil }) => standDownUntil);
	const atLeastUntil = [noSparringUntil, ...standDowns]
		.flatMap((day) => (day !== undefined && day > today && day !== heldForOlderPages ? day : []))
		.sort()
		.at(-1);
	return { ...(atLeastUntil && { atLeastUntil }) };
}
