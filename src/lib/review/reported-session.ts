import type { Usual } from '$lib/physiology/usual';
import type { Athlete } from '$lib/record/athlete';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { Summary } from '$lib/record/summary';
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
	/** No sparring before this day, YYYY-MM-DD. Why is nobody's business on paper. */
	restrictedUntil?: string;
	/** When the note was written, ISO 8601. */
	noteAt?: string;
}

/** What a kept session's report stands on: the same figures as its review. `today` is YYYY-MM-DD. */
export function reportedSession(
	found: { edit: ReportedSession['edit'] & Pick<RecordEdit, 'feeling'>; noteAt?: string },
	shown: Reviewed,
	owner: Pick<Athlete, 'noSparringUntil'> | undefined,
	others: Pick<ReportedSession, 'usual' | 'previousCheck'>,
	today: string
): ReportedSession {
	const until = owner?.noSparringUntil;
	return {
		head: shown.record.head,
		edit: found.edit,
		summary: shown.summary,
		run: runResultOf(shown, found.edit),
		usual: others.usual,
		previousCheck: others.previousCheck,
		noteAt: found.noteAt,
		...(until !== undefined && until > today && { restrictedUntil: until })
	};
}
